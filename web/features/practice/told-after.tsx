import type { PracticeRun } from '#contract/practice.ts'
import { dialText, moveDone } from '#web/features/practice/words.ts'

/** What was said before the last move and what came of it. */
export function ToldAfter({ run }: { run: PracticeRun }) {
  const last = run.moves.at(-1)
  const [before, came] = run.readings.slice(-2)
  if (last === undefined || before === undefined || came === undefined) return null
  const { said } = last
  const off = [said.leftTirMm - came.left.tirMm, said.rightTirMm - came.right.tirMm].map(Math.abs)
  const gone = Math.max(Math.abs(came.left.tirMm - before.left.tirMm), Math.abs(came.right.tirMm - before.right.tirMm))
  return (
    <div className="last-move">
      <p>
        Last move: {moveDone(last.move)}. You said left {dialText(said.leftTirMm)}, right {dialText(said.rightTirMm)}; it reads left{' '}
        {dialText(came.left.tirMm)}, right {dialText(came.right.tirMm)}.
      </p>
      <p>
        <b>
          {gone <= run.worthMm ? 'It did not move as far as these dials tell. ' : ''}
          You were off by {dialText(off[0] ?? 0)} and {dialText(off[1] ?? 0)}.
        </b>
      </p>
    </div>
  )
}
