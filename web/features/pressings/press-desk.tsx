import { type ReactNode, useState } from 'react'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { emptyPress, type PressForm, peakTonnesOf, pressForBook, readPressForm } from '#web/features/pressings/press-form.ts'
import { PressLook } from '#web/features/pressings/press-look.tsx'
import { bandWords, type Direction, type Pressing, pressedNow, tonnes } from '#web/features/pressings/press-words.ts'
import { usePressWeb } from '#web/features/pressings/queries.ts'
import { tabletDrafts, useDraft } from '#web/lib/draft.ts'
import { newId } from '#web/lib/id.ts'
import { useJointHere } from '#web/lib/joint-here.ts'
import { EndMark } from '#web/ui/end-mark.tsx'
import { Keypad } from '#web/ui/keypad.tsx'
import { Reason } from '#web/ui/reason.tsx'
import { Loading } from '#web/ui/states.tsx'

export interface PressDeskProps {
  jobId: string
  personId: string
  direction: Direction
  pressings: readonly Pressing[]
  /** What the fit foretells for a web, said beside its gauge. */
  foretold?: Partial<Record<Side, string>>
  children?: ReactNode
}

/** The gauge of the press, one web after the other: its peak, and what the web shows. Kept on the tablet until the book has it. */
export function PressDesk(props: PressDeskProps) {
  const { jobId, personId, direction } = props
  const joint = useJointHere()
  const draft = useDraft(`press-${direction}:${personId}:${jobId}${joint === undefined ? '' : `:${joint}`}`, readPressForm, tabletDrafts)
  const [round, setRound] = useState(0)
  if (draft.state === 'reading') return <Loading what="what was keyed" />
  return (
    <Pressed
      {...props}
      key={round}
      found={round === 0 ? draft.found : undefined}
      onChange={draft.keep}
      onKept={async () => {
        await draft.clear()
        setRound(round + 1)
      }}
    />
  )
}

interface PressedProps extends PressDeskProps {
  found: PressForm | undefined
  onChange(form: PressForm): void
  onKept(): Promise<void>
}

function Pressed({ jobId, direction, pressings, foretold = {}, found, onChange, onKept, children }: PressedProps) {
  const done = pressedNow(pressings, direction)
  const [form, setForm] = useState<PressForm>(() => found ?? begin(pressings, done))
  const press = usePressWeb(jobId)
  const change = (part: Partial<PressForm>) => {
    const next = { ...form, ...part }
    setForm(next)
    onChange(next)
  }
  const both = done.left !== undefined && done.right !== undefined
  const keep = () => {
    press.mutateAsync(pressForBook(form, direction)).then(onKept, () => undefined)
  }
  const went = direction === 'apart' ? 'let go' : 'went home'
  const isKeying = !form.peakTaken
  return (
    <>
      <section className="press-webs" aria-label="Webs at the press">
        <div className="press-sides">
          {SIDES.map((side) => {
            const one = done[side]
            const here = side === form.side
            const keyed = here && form.peak !== '' ? tonnes(peakTonnesOf(form.peak) ?? 0) : ''
            return (
              <button
                key={side}
                type="button"
                className="press-side"
                aria-pressed={here}
                onClick={() => {
                  if (!here) change(emptyPress(newId(), side, form.lubricant))
                }}
              >
                <span className="press-side-name">
                  <EndMark end={side} letter size={22} /> {side} web
                </span>
                <span className="fig">
                  {here && keyed !== ''
                    ? keyed
                    : one === undefined
                      ? '–'
                      : one.peakTonnes === undefined
                        ? 'not read'
                        : tonnes(one.peakTonnes)}
                </span>
                <span className="press-foretold">{one === undefined ? (foretold[side] ?? '') : bandWords(one)}</span>
              </button>
            )
          })}
        </div>
        {both && isKeying && <p>Both webs are in the book. Key another only if it was pressed again.</p>}
        {children}
      </section>
      <section className="press-hand" aria-label={isKeying ? 'Keys' : 'What it showed'}>
        {isKeying ? (
          <>
            <Keypad
              kind="tail"
              most={3}
              value={{ digits: form.peak, negative: false, half: false }}
              onChange={(keyed) => change({ peak: keyed.digits })}
              confirm={direction === 'apart' ? 'It let go at this' : 'It went at this'}
              onConfirm={() => {
                if (peakTonnesOf(form.peak) !== undefined) change({ peakTaken: true, notReadBecause: '', doneAt: new Date().toISOString() })
              }}
              onBackOne={() => change({ peak: '' })}
              note={
                peakTonnesOf(form.peak) === undefined
                  ? `Highest the gauge showed when the ${form.side} web ${went}, in tenths of a tonne: 95 is 9.5 t.`
                  : `${tonnes(peakTonnesOf(form.peak) ?? 0)}, the ${form.side} web.`
              }
            />
            <Reason
              open="Gauge not read, because …"
              label="Why was the gauge not read?"
              confirm="It was not read"
              most={300}
              onConfirm={(because) => change({ notReadBecause: because, peak: '', peakTaken: true, doneAt: new Date().toISOString() })}
            >
              <p className="soft">The gate then needs the owner.</p>
            </Reason>
          </>
        ) : (
          <PressLook form={form} direction={direction} busy={press.isPending} error={press.error} onChange={change} onKeep={keep} />
        )}
      </section>
    </>
  )
}

/** Begins with the web that is not in the book yet, and the oil or paste used last. */
function begin(pressings: readonly Pressing[], done: Partial<Record<Side, Pressing>>): PressForm {
  const side: Side = done.left === undefined ? 'left' : 'right'
  const lubricant = pressings.filter((one) => one.lubricant !== undefined).at(-1)?.lubricant ?? ''
  return emptyPress(newId(), side, lubricant)
}
