import type { RunoutFigures } from '#contract/measurements.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import { isWithin, type Side } from '#core/runout-verdict.ts'
import { endsToRead } from '#web/features/truing/marks-to-read.ts'
import { worthText } from '#web/features/truing/reading-worth.tsx'
import { tirText } from '#web/features/truing/tir-text.ts'
import { thou } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { EndMark } from '#web/ui/end-mark.tsx'

export interface SwingsNowProps {
  figures: RunoutFigures
  held: WayOfHolding
  stepMm: number
}

function limitOf(figures: RunoutFigures, side: Side): number | undefined {
  return side === 'left' ? figures.limits.leftMm : figures.limits.rightMm
}

/** Full swing of each end, first and largest, beside what is allowed at that place and what the figure is worth. */
export function SwingsNow({ figures, held, stepMm }: SwingsNowProps) {
  const here = useHere()
  const ends = endsToRead(held)
  const inThou = ends.flatMap((side) => (figures[side] === undefined ? [] : [thou(figures[side].tirMm)]))
  return (
    <div className="swings">
      {ends.map((side) => {
        const tirMm = figures[side]?.tirMm
        const limitMm = limitOf(figures, side)
        const isOver = tirMm !== undefined && limitMm !== undefined && !isWithin(tirMm, limitMm)
        return (
          <p key={side} className="swing-now">
            <EndMark end={side} size={26} />{' '}
            <span className={`fig${isOver ? ' over' : ''}`}>{tirMm === undefined ? '–' : tirText(tirMm, stepMm, limitMm)}</span>{' '}
            <b>{side === 'left' ? 'L' : 'R'}</b>
            {isOver && <span className="swing-over">over</span>}
          </p>
        )
      })}
      <p className="swings-beside">
        full swing of the dial, mm{here.unit === 'mm' ? '' : `, or ${inThou.join(' and ')} thou`}
        <br />
        {allowedWords(figures, ends, stepMm)}
        <br />
        give or take {worthOf(figures, ends)}
      </p>
    </div>
  )
}

function allowedWords(figures: RunoutFigures, ends: readonly Side[], stepMm: number): string {
  const { leftMm, rightMm } = figures.limits
  const known = ends.filter((side) => limitOf(figures, side) !== undefined)
  if (known.length === 0) return 'our limit is for another place or another way of holding: not to be compared'
  if (known.length < ends.length || leftMm === undefined || rightMm === undefined)
    return `allowed here ${known.map((side) => `${side} ${limitText(limitOf(figures, side) ?? 0, stepMm)}`).join(', ')}`
  return `allowed here ${leftMm === rightMm ? limitText(leftMm, stepMm) : `left ${limitText(leftMm, stepMm)}, right ${limitText(rightMm, stepMm)}`}`
}

/** A limit keeps the digits that it has, and at least those of the dial. */
function limitText(mm: number, stepMm: number): string {
  const plain = String(Number(mm.toFixed(4)))
  const byDial = tirText(mm, stepMm)
  return Number(byDial) === Number(plain) ? byDial : plain
}

function worthOf({ giveOrTake }: RunoutFigures, ends: readonly Side[]): string {
  const says = ends.map((side) => worthText(side === 'left' ? giveOrTake.leftMm : giveOrTake.rightMm))
  return new Set(says).size === 1 ? (says[0] ?? '') : `left ${says[0]}, right ${says[1]}`
}
