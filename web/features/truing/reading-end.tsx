import type { RunoutFigures } from '#contract/runout-figures.ts'
import type { Side } from '#core/runout-verdict.ts'
import { endsToRead } from '#web/features/truing/marks-to-read.ts'
import { takenText } from '#web/features/truing/reading-grid.tsx'
import type { KeptReading } from '#web/features/truing/reading-state.ts'
import { worthText } from '#web/features/truing/reading-worth.tsx'
import { endsThatMoved, offAtTwelve } from '#web/features/truing/set-to-send.ts'
import { tirText } from '#web/features/truing/tir-text.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { EndMark } from '#web/ui/end-mark.tsx'

export interface ReadingEndProps {
  kept: KeptReading
  figures: RunoutFigures
  sending: boolean
  error: unknown
  onAgain(side: Side): void
  onBack(): void
  onTake(cold: boolean): void
}

/** All figures are in: does 12 repeat, how far does each end swing, is it cold; then the set is sent as one. */
export function ReadingEnd({ kept, figures, sending, error, onAgain, onBack, onTake }: ReadingEndProps) {
  const { setUp } = kept
  const moved = endsThatMoved(kept, figures.closes)
  const ends = endsToRead(setUp.held)
  const agrees = moved.length === 0
  return (
    <div className="reading-end">
      <h2>{agrees ? 'The readings are in and repeat.' : 'The readings do not repeat.'}</h2>
      <ul className="plain-list">
        {ends.map((side) => (
          <li key={side}>
            <EndMark end={side} letter size={22} /> {endWords(kept, figures, side)}
          </li>
        ))}
      </ul>
      {agrees ? (
        <p>What is wrong and what to do comes when the set is taken.</p>
      ) : (
        <p>Settle it, three turns, dial tight; then read that end again.</p>
      )}
      {error !== null && error !== undefined && (
        <p role="alert" className="wrong">
          The set is not in the book yet. {inWords(error)}
        </p>
      )}
      {agrees ? (
        <TakeButtons kind="go" cold={setUp.cold} sending={sending} onTake={onTake} onBack={onBack} />
      ) : (
        <>
          <Buttons>
            {moved.map((side, place) => (
              <Button key={side} kind={place === 0 ? 'go' : 'quiet'} onClick={() => onAgain(side)}>
                Read the {side} end again
              </Button>
            ))}
          </Buttons>
          <details className="reading-as-it-is">
            <summary>It will not repeat better than this</summary>
            <p>Written down like this, the set tells how far each end swings, but no fault and no advice.</p>
            <TakeButtons kind="quiet" cold={setUp.cold} sending={sending} onTake={onTake} onBack={onBack} />
          </details>
        </>
      )}
    </div>
  )
}

interface TakeButtonsProps {
  kind: 'go' | 'quiet'
  cold: boolean | undefined
  sending: boolean
  onTake(cold: boolean): void
  onBack(): void
}

/** Where nobody has said whether the crank is cold, taking the set says it. */
function TakeButtons({ kind, cold, sending, onTake, onBack }: TakeButtonsProps) {
  return (
    <>
      {cold === undefined && <p>Is the crank at the temperature of the room?</p>}
      <Buttons>
        {cold === undefined ? (
          <>
            <Button kind={kind} busy={sending} onClick={() => onTake(true)}>
              {kind === 'go' ? 'Cold: take this set' : 'Cold: take it as it is'}
            </Button>
            <Button busy={sending} onClick={() => onTake(false)}>
              {kind === 'go' ? 'Still warm: take it' : 'Still warm: take it as it is'}
            </Button>
          </>
        ) : (
          <Button kind={kind} busy={sending} onClick={() => onTake(cold)}>
            {kind === 'go' ? 'Take this set' : 'Take it as it is'}
          </Button>
        )}
        <Button onClick={onBack}>Back one</Button>
      </Buttons>
    </>
  )
}

function endWords(kept: KeptReading, figures: RunoutFigures, side: Side): string {
  const { stepMm, readAt } = kept.setUp
  const swing = figures[side]
  const worthMm = side === 'left' ? figures.giveOrTake.leftMm : figures.giveOrTake.rightMm
  const swings =
    swing === undefined ? 'cannot be worked out' : `swings ${tirText(swing.tirMm, stepMm)} mm, give or take ${worthText(worthMm)}`
  if (readAt === 'swing') return swings
  const off = offAtTwelve(figures.closes, side, stepMm)
  if (off === undefined) return `${swings}, 12 again repeats`
  return `12 again reads ${takenText(Math.abs(off), stepMm)} ${off > 0 ? 'higher' : 'lower'} than 12 did`
}
