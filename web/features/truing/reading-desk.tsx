import { type ReactNode, useReducer, useState } from 'react'
import type { Engine } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { Side } from '#core/runout-verdict.ts'
import { allowedWords } from '#web/features/truing/allowed-words.ts'
import { runOf } from '#web/features/truing/marks-said.ts'
import { cellsOf, endsToRead, marksOf } from '#web/features/truing/marks-to-read.ts'
import { ReadingEnd } from '#web/features/truing/reading-end.tsx'
import { ReadingGrid, takenText } from '#web/features/truing/reading-grid.tsx'
import {
  awaitsHigh,
  isComplete,
  type KeptReading,
  type ReadingAct,
  type ReadingState,
  readingAfter,
  refusalOf,
  skipRefusal,
} from '#web/features/truing/reading-state.ts'
import { ReadingWorth, worthHere } from '#web/features/truing/reading-worth.tsx'
import { preview } from '#web/features/truing/set-to-send.ts'
import type { ReadingSetUp } from '#web/features/truing/set-up.ts'
import { SetUpChips } from '#web/features/truing/set-up-chips.tsx'
import { SwingReading } from '#web/features/truing/swing-reading.tsx'
import { thou } from '#web/lib/format.ts'
import { useJointHere } from '#web/lib/joint-here.ts'
import { divisions, divisionsToMm, isNumber, type Keyed } from '#web/lib/keyed.ts'
import { Button } from '#web/ui/button.tsx'
import { Keypad } from '#web/ui/keypad.tsx'
import { TurnDial } from '#web/ui/turn-dial.tsx'

export interface ReadingDeskProps {
  start: ReadingState
  sheet: Engine
  dials: readonly Instrument[]
  shopLimitMm: number
  /** Full swings of the last set, for asking about a figure far from them. */
  lastTir: { [End in Side]?: number | undefined }
  /** What the last set said; “last time” only. */
  lastTime?: ReactNode
  sending: boolean
  error: unknown
  onChange(kept: KeptReading): void
  onSetUp(kept: ReadingState): void
  onTake(kept: KeptReading, cold: boolean): void
  /** Beneath the pad: not read, because. */
  children?: ReactNode
}

function kept(state: ReadingState): KeptReading {
  const { setId, setUp, taken, takenAt } = state
  return { setId, setUp, taken, ...(takenAt === undefined ? {} : { takenAt }) }
}

/** Reading: both ends at every mark, keyed in divisions. No fault and no advice here; that comes once the set is in. */
export function ReadingDesk(props: ReadingDeskProps) {
  const { start, sheet, dials, shopLimitMm, lastTir, lastTime, sending, error, onChange, onSetUp, onTake, children } = props
  const [state, dispatch] = useReducer((now: ReadingState, act: ReadingAct) => readingAfter(now, act), start)
  const act = (next: ReadingAct) => {
    dispatch(next)
    // The reducer is pure, so that what is kept can be worked out here as well.
    onChange(kept(readingAfter(state, next)))
  }
  const { setUp, at, keyed } = state
  const joint = useJointHere()
  const complete = isComplete(state) && at >= state.taken.length
  const now = () => new Date().toISOString()
  const dial = dials.find((one) => one.id === setUp.instrumentId)

  return (
    <div className="reading">
      <section className="reading-marks" aria-label="Readings">
        <SetUpChips setUp={setUp} dialName={dial?.name} onOpen={() => onSetUp(state)} />
        {setUp.readAt === 'swing' ? (
          <SwingReading state={state} onGo={(to) => act({ do: 'go', at: to })} onHigh={(deg) => act({ do: 'high', deg, now: now() })} />
        ) : (
          <ReadingGrid state={state} onGo={(to) => act({ do: 'go', at: to })} onUnskip={(side, deg) => act({ do: 'unskip', side, deg })} />
        )}
        <p className="soft">
          Full swing: {allowedWords(preview(state, sheet, shopLimitMm, dial), setUp, { stepMm: setUp.stepMm, joint })}.
        </p>
        <ReadingWorth worth={worthHere(setUp, dial)} warm={setUp.cold === false} />
      </section>
      <section className="reading-next" aria-label="What is read next">
        <NextReading state={state} lastTime={lastTime} />
      </section>
      <section className="reading-hand" aria-label={complete ? 'The set' : 'Keys'}>
        {complete ? (
          <ReadingEnd
            kept={kept(state)}
            figures={preview(state, sheet, shopLimitMm, dial)}
            sending={sending}
            error={error}
            onAgain={(side) => act({ do: 'again', side })}
            onBack={() => act({ do: 'back' })}
            onTake={(cold) => onTake(kept(state), cold)}
          />
        ) : (
          <>
            <Keypad
              kind="dial"
              value={keyed}
              onChange={(next) => act({ do: 'key', keyed: next })}
              confirm={state.asked ? 'Yes, it does' : 'It reads this'}
              onConfirm={(value) => act({ do: 'take', keyed: value, last: lastTir, now: now() })}
              onBackOne={() => act({ do: 'back' })}
              note={state.asked ? askedWords(state, lastTir) : noteWords(keyed, setUp)}
            />
            {setUp.readAt !== 'swing' && (
              <SkipMark key={state.at} refused={skipRefusal(state)} onSkip={() => act({ do: 'skip', now: now() })} />
            )}
            {children}
          </>
        )}
      </section>
    </div>
  )
}

/** A fine dial is worth a digit more in thou too. */
function thouText(mm: number, stepMm: number): string {
  return thou(mm, stepMm < 0.005 ? 2 : 1)
}

/** `8 is 0.08 mm (3.1 thou) high`, or how to key it. */
function noteWords(keyed: Keyed, setUp: ReadingSetUp): string {
  const refused = refusalOf(keyed, setUp)
  if (refused !== undefined) return refused
  if (!isNumber(keyed)) {
    const example = divisionsToMm(8, setUp.stepMm)
    return `Keyed in divisions of the dial: 8 is ${takenText(example, setUp.stepMm)} mm (${thouText(example, setUp.stepMm)} thou)${setUp.readAt === 'swing' ? '' : ' high'}. Half more adds half a division.`
  }
  const mm = divisionsToMm(divisions(keyed), setUp.stepMm)
  const size = `${takenText(Math.abs(mm), setUp.stepMm)} mm (${thouText(Math.abs(mm), setUp.stepMm)} thou)`
  const count = `${keyed.negative ? '\u2212' : ''}${Number(keyed.digits === '' ? '0' : keyed.digits)}${keyed.half ? '½' : ''}`
  return `${count} is ${size}${setUp.readAt === 'swing' || mm === 0 ? '' : mm > 0 ? ' high' : ' low'}.`
}

function askedWords(state: ReadingState, lastTir: ReadingDeskProps['lastTir']): string {
  const { setUp, keyed } = state
  const cell = cellsOf(setUp)[state.at]
  const last = cell === undefined ? undefined : lastTir[cell.side]
  const size = takenText(divisionsToMm(divisions(keyed), setUp.stepMm), setUp.stepMm)
  const before =
    last === undefined ? 'no crank that ran swings like that' : `last time this end swung ${takenText(last, setUp.stepMm)} in all`
  return `${size} mm? That is far off: ${before}. Look at the dial again; rub out, or say yes.`
}

/** A dial that falls into a keyway says nothing of the shaft: that mark is left out, never taken into a mean. */
function SkipMark({ refused, onSkip }: { refused: string | undefined; onSkip(): void }) {
  const [asked, setAsked] = useState(false)
  return (
    <div className="skip-mark">
      <Button onClick={() => (refused === undefined ? onSkip() : setAsked(true))}>Skip it: a keyway lies here</Button>
      {asked && refused !== undefined && <p role="alert">{refused}</p>}
    </div>
  )
}

function runWords(setUp: ReadingSetUp): string {
  return runOf(setUp) === 'clockwise'
    ? 'Marks run clockwise seen from the drive end.'
    : 'Your marks run anticlockwise seen from the drive end; the book turns them round.'
}

function NextReading({ state, lastTime }: { state: ReadingState; lastTime: ReactNode }) {
  const { setUp, at, taken } = state
  const cell = cellsOf(setUp)[at]
  const both = endsToRead(setUp.held).length > 1
  const order = !both
    ? 'One end is read; the other is held true.'
    : setUp.dials === 'two'
      ? 'One turn reads both ends: L, R at each mark.'
      : 'One end after the other.'
  if (cell === undefined) return null
  if (setUp.readAt === 'swing') {
    const high = awaitsHigh(taken[at], setUp)
    return (
      <div>
        <p className="reading-bring">
          {high
            ? `Turn it until the ${cell.side} end reads highest.`
            : `Turn it once, slowly, the usual way round. Key highest less lowest of the ${cell.side} end.`}
        </p>
        {lastTime !== undefined && <p className="soft">Last time: {lastTime}</p>}
      </div>
    )
  }
  const marks = marksOf(setUp)
  const again = cell.place.endsWith('-again')
  return (
    <>
      <p className="soft reading-order">
        <span className="reading-way">
          {order} {runWords(setUp)}{' '}
        </span>
        <span role="status">
          Next: {cell.side} end at {cell.name}.
        </span>
      </p>
      <div className="reading-turn">
        <TurnDial atDeg={cell.atDeg} marks={marks.filter((mark) => !mark.again)} />
        <div>
          <p className="reading-bring">
            Bring mark <b>{marks.find((mark) => mark.deg === cell.atDeg)?.name}</b> under the dial, same way round
            {again ? ', once more' : cell.atDeg === 0 ? ': the pin at the dial' : ''}.
          </p>
          {lastTime !== undefined && <p className="soft">Last time: {lastTime}</p>}
        </div>
      </div>
    </>
  )
}
