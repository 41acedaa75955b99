import type { RunoutSetup } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import { isWithin, type Side } from '#core/runout-verdict.ts'
import { allowedWords } from '#web/features/truing/allowed-words.ts'
import { endsToRead } from '#web/features/truing/marks-to-read.ts'
import { worthText } from '#web/features/truing/reading-worth.tsx'
import { tirText } from '#web/features/truing/tir-text.ts'
import { thou } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useJointHere } from '#web/lib/joint-here.ts'
import { EndMark } from '#web/ui/end-mark.tsx'

export interface SwingsNowProps {
  figures: RunoutFigures
  setup: RunoutSetup
  stepMm: number
}

function limitOf(figures: RunoutFigures, side: Side): number | undefined {
  return side === 'left' ? figures.limits.leftMm : figures.limits.rightMm
}

/** Full swing of each end, first and largest, beside what is allowed at that place and what the figure is worth. */
export function SwingsNow({ figures, setup, stepMm }: SwingsNowProps) {
  const here = useHere()
  const joint = useJointHere()
  const ends = endsToRead(setup.held)
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
        {allowedWords(figures, setup, { stepMm, joint })}
        <br />
        give or take {worthOf(figures, ends)}
      </p>
    </div>
  )
}

function worthOf({ giveOrTake }: RunoutFigures, ends: readonly Side[]): string {
  const says = ends.map((side) => worthText(side === 'left' ? giveOrTake.leftMm : giveOrTake.rightMm))
  return new Set(says).size === 1 ? (says[0] ?? '') : `left ${says[0]}, right ${says[1]}`
}
