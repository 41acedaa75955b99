import { type ReactNode, useReducer, useState } from 'react'
import type { LengthUnit } from '#core/units.ts'
import type { PlaceToRead } from '#web/features/measurements/kinds.ts'
import { SetCells } from '#web/features/measurements/set-cells.tsx'
import {
  figureKeyed,
  isInFull,
  type KeptSet,
  type SetAct,
  type SetState,
  setAfter,
  type TakenFigure,
} from '#web/features/measurements/set-state.ts'
import { TypedEntry } from '#web/features/measurements/typed-entry.tsx'
import { newId } from '#web/lib/id.ts'
import { isNumber, NOTHING_KEYED } from '#web/lib/keyed.ts'
import { keyingWords, lengthKeyed } from '#web/lib/keyed-length.ts'
import { inWords } from '#web/lib/problem.ts'
import { AskedAgain } from '#web/ui/asked-again.tsx'
import { Button } from '#web/ui/button.tsx'
import { Keypad } from '#web/ui/keypad.tsx'
import { lengthReadBack } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

/** Whole millimetres before the figures that an instrument resolves: three for the longest crank. */
const MOST_DIGITS = 6

export interface SetDeskProps {
  start: SetState
  places: readonly PlaceToRead[]
  stepMm: number
  nearMm: number | undefined
  /** What the big key says. */
  takes: string
  /** Digits to show how it is keyed. */
  example: string
  sending: boolean
  error: unknown
  /** What to ask before a figure is taken at a place; undefined where nothing is odd about it. */
  ask(kept: KeptSet, at: number): string | undefined
  /** What is odd about the whole set, asked before it is kept. */
  odd(kept: KeptSet): readonly string[]
  onChange(kept: KeptSet): void
  onKeep(kept: KeptSet): void
  /** What is read and with what, above the figures. */
  head: ReactNode
  /** What the figures come to, shown beneath them. */
  says(kept: KeptSet): ReactNode
  /** Beneath the keys: not read, because. */
  children?: ReactNode
}

function keptOf({ setId, taken, takenAt }: SetState): KeptSet {
  return { setId, taken, ...(takenAt === undefined ? {} : { takenAt }) }
}

/** One figure after another on the keys; then all of them read back, and kept as one set. */
export function SetDesk(props: SetDeskProps) {
  const { start, places, stepMm, nearMm, takes, example, sending, error, ask, odd, onChange, onKeep, head, says, children } = props
  const [state, dispatch] = useReducer(setAfter, start)
  const [unit, setUnit] = useState<LengthUnit>('mm')
  const [asked, setAsked] = useState<{ at: number; mm: number; says: string } | undefined>(undefined)
  const act = (next: SetAct) => {
    dispatch(next)
    // The reducer is pure, so that what is kept can be worked out here as well.
    onChange(keptOf(setAfter(state, next)))
  }
  const { at, keyed } = state
  const here = places[at]
  const keying = isNumber(keyed) ? lengthKeyed(keyed.digits, stepMm, nearMm) : ''
  const take = (figure: TakenFigure | undefined) => {
    if (figure === undefined) return
    const next: SetAct = { do: 'take', figure, now: new Date().toISOString() }
    const says = asked?.at === at && asked.mm === figure.mm ? undefined : ask(keptOf(setAfter(state, next)), at)
    setAsked(says === undefined ? undefined : { at, mm: figure.mm, says })
    act(says === undefined ? next : { do: 'key', keyed: NOTHING_KEYED })
  }
  return (
    <div className="set-desk">
      <div className="set-head">{head}</div>
      <section className="set-figures" aria-label="Figures">
        <SetCells places={places} state={state} keying={keying} onGo={(to) => act({ do: 'go', at: to })} />
        {says(keptOf(state))}
      </section>
      <section className="set-hand" aria-label={here === undefined ? 'Read back' : 'Keys'}>
        {here === undefined ? (
          <ReadBack
            state={state}
            sending={sending}
            error={error}
            odd={odd(keptOf(state))}
            onBack={() => act({ do: 'back' })}
            onAfresh={() => act({ do: 'afresh', setId: newId() })}
            onKeep={() => onKeep(keptOf(state))}
          />
        ) : (
          <>
            <p className="set-now">
              <span>{here.says}</span>
              <output className="fig">{keying === '' ? '–' : keying}</output>
            </p>
            {asked?.at === at && <AskedAgain says={asked.says} />}
            <Keypad
              kind="tail"
              most={MOST_DIGITS}
              value={keyed}
              onChange={(next) => act({ do: 'key', keyed: next })}
              confirm={takes}
              onConfirm={(value) => take(figureKeyed(value, stepMm, nearMm))}
              onBackOne={() => act({ do: 'back' })}
              note={keying === '' ? keyingWords(stepMm, nearMm, example) : `${lengthReadBack(Number(keying), 'mm')}.`}
            />
            <div className="set-beside">
              {here.mayBeLeftOut && <Button onClick={() => act({ do: 'leave-out' })}>Leave this one out</Button>}
              <TypedEntry key={here.place} says={here.says} unit={unit} onUnit={setUnit} onTake={take} />
            </div>
          </>
        )}
        {children}
      </section>
    </div>
  )
}

interface ReadBackProps {
  state: SetState
  sending: boolean
  error: unknown
  odd: readonly string[]
  onBack(): void
  onAfresh(): void
  onKeep(): void
}

/** The set is in: read it back, then keep it. It goes into the book as one, and is never changed there. */
function ReadBack({ state, sending, error, odd, onBack, onAfresh, onKeep }: ReadBackProps) {
  const full = isInFull(state)
  return (
    <div className="read-back">
      <h2>{full ? 'Read them back.' : 'Nothing is read in this set.'}</h2>
      {error !== null && error !== undefined && (
        <ProblemSummary title="It is not in the book yet.">
          <p>{inWords(error)}</p>
        </ProblemSummary>
      )}
      {full && odd.length > 0 && (
        <div className="asked-again" role="status">
          {odd.map((says) => (
            <p key={says} className="asked-what">
              {says}
            </p>
          ))}
        </div>
      )}
      {full ? (
        <>
          <p>Once kept, a set is not changed: it is struck out with a reason and taken again.</p>
          <Button kind="go" wide busy={sending} onClick={onKeep}>
            Keep this set
          </Button>
        </>
      ) : (
        <p>Read one at least, or say below why it was not read.</p>
      )}
      <Button wide onClick={onBack}>
        Back one
      </Button>
      <Button wide onClick={onAfresh}>
        Read all again
      </Button>
    </div>
  )
}
