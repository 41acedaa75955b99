import type { PracticeRun } from '#contract/practice.ts'
import { isWithin } from '#core/runout-verdict.ts'
import { dialText } from '#web/features/practice/words.ts'
import { EndMark } from '#web/ui/end-mark.tsx'

/** Full swing of each end, first and largest, beside what is allowed. */
export function SwingsRead({ run }: { run: PracticeRun }) {
  const reading = run.readings.at(-1)
  if (reading === undefined) return null
  return (
    <div className="swings">
      {(['left', 'right'] as const).map((side) => {
        const { tirMm } = reading[side]
        const isOver = !isWithin(tirMm, run.limitMm)
        return (
          <p key={side} className="swing-now">
            <EndMark end={side} size={26} /> <span className={`fig${isOver ? ' over' : ''}`}>{dialText(tirMm)}</span>{' '}
            <b>{side === 'left' ? 'L' : 'R'}</b>
            {isOver && <span className="swing-over">over</span>}
          </p>
        )
      })}
      <p className="swings-beside">
        full swing of the dial, mm
        <br />
        allowed here {dialText(run.limitMm)}
        <br />
        give or take {dialText(run.worthMm)}
      </p>
    </div>
  )
}
