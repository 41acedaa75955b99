import type { PracticeRun } from '#contract/practice.ts'
import { PracticeGrid } from '#web/features/practice/practice-grid.tsx'
import { dialText, hourOf } from '#web/features/practice/words.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { EndMark } from '#web/ui/end-mark.tsx'
import { TurnDial } from '#web/ui/turn-dial.tsx'

export interface TurnItRoundProps {
  reading: PracticeRun['readings'][number]
  /** The mark under the dials, in the order of reading. */
  at: number
  onTurn(at: number): void
  /** All marks are read. */
  onRead(): void
}

/** Reading: one mark after the other comes under the dials, 12 again at the end. */
export function TurnItRound({ reading, at, onTurn, onRead }: TurnItRoundProps) {
  const mark = reading.marks[at]
  const next = reading.marks[at + 1]
  if (mark === undefined) return null
  return (
    <section className="practice-reading" aria-label="Readings">
      <PracticeGrid marks={reading.marks.slice(0, at + 1)} />
      <div className="practice-turn">
        <TurnDial atDeg={mark.atDeg} />
        <div>
          <p className="practice-bring" role="status">
            <span>
              Mark <b>{hourOf(mark.atDeg)}</b> under the dials{at === reading.marks.length - 1 ? ', once more' : ''}:
            </span>{' '}
            <span className="practice-end">
              <EndMark end="left" letter size={22} /> <span className="fig">{dialText(mark.leftMm)}</span>
            </span>{' '}
            <span className="practice-end">
              <EndMark end="right" letter size={22} /> <span className="fig">{dialText(mark.rightMm)}</span>
            </span>
          </p>
          <p className="soft">Marks run clockwise seen from the drive end. Both dials are set to 0 at 12.</p>
          <Buttons>
            {next === undefined ? (
              <Button kind="go" onClick={onRead}>
                It is read
              </Button>
            ) : (
              <>
                <Button kind="go" onClick={() => onTurn(at + 1)}>
                  Turn it to {hourOf(next.atDeg)}
                  {next.atDeg === 0 ? ' again' : ''}
                </Button>
                <Button onClick={onRead}>Read all marks</Button>
              </>
            )}
          </Buttons>
        </div>
      </div>
    </section>
  )
}
