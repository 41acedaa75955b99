import '#web/features/measurements/measurements.css'
import { type ReactNode, useState } from 'react'
import type { Measurement, MeasurementNew } from '#contract/measurements.ts'
import type { CrankBuild } from '#core/crank-build.ts'
import { phaseError } from '#core/phase.ts'
import type { JobKind, JobState } from '#core/steps.ts'
import { type Phase, phasesFor } from '#web/features/measurements/kinds.ts'
import { useTakeReadings } from '#web/features/measurements/queries.ts'
import { SetList } from '#web/features/measurements/set-list.tsx'
import { tabletDrafts, useDraft } from '#web/lib/draft.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { readQuantity } from '#web/lib/quantity.ts'
import { fields, listOf, read, text } from '#web/lib/shape.ts'
import { Button } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { QuantityField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'
import { Reason } from '#web/ui/reason.tsx'
import { Loading } from '#web/ui/states.tsx'

export interface AngleDeskProps {
  jobId: string
  personId: string
  jobKind: JobKind
  state: JobState
  build: CrankBuild
  /** All sets of angles on this job, oldest first. */
  sets: readonly Measurement[]
  /** The way on, once the set is in the book. */
  onward: ReactNode
}

interface KeptAngles {
  setId: string
  /** As typed, throw 2 first. */
  typed: string[]
}
const keptAngles = fields<KeptAngles>({ setId: text, typed: listOf(text) })

function readKeptAngles(raw: unknown): KeptAngles | undefined {
  return read(keptAngles, raw)
}

/** Where each throw stands from throw 1, by the degree wheel. What is typed is kept on the tablet until the book has it. */
export function AngleDesk(props: AngleDeskProps) {
  const { jobId, personId, sets, onward } = props
  const draft = useDraft(`phase:${personId}:${jobId}`, readKeptAngles, tabletDrafts)
  const [round, setRound] = useState(0)
  const [isKept, setKept] = useState(false)
  if (draft.state === 'reading') return <Loading what="what was typed" />
  return (
    <div className="measure">
      <p className="measure-kept" role="status">
        {isKept && 'The angles are written down.'}
      </p>
      {isKept ? (
        <div className="buttons">
          {onward}
          <Button onClick={() => setKept(false)}>Read them again</Button>
        </div>
      ) : (
        <Angles
          {...props}
          key={round}
          found={round === 0 ? draft.found : undefined}
          onChange={draft.keep}
          onTaken={async () => {
            await draft.clear()
            setRound(round + 1)
            setKept(true)
          }}
        />
      )}
      <section aria-label="Sets before">
        <h2>Taken so far</h2>
        <SetList jobId={jobId} sets={sets} />
      </section>
    </div>
  )
}

interface AnglesProps extends AngleDeskProps {
  found: KeptAngles | undefined
  onChange(kept: KeptAngles): void
  onTaken(): Promise<void>
}

function Angles({ jobId, jobKind, state, build, found, onChange, onTaken }: AnglesProps) {
  const throws = build.phaseDeg.slice(1)
  const phases = phasesFor('width', jobKind, state)
  const [phase, setPhase] = useState<Phase>(phases[0].value)
  const [kept, setAngles] = useState<KeptAngles>(() =>
    found?.typed.length === throws.length ? found : { setId: newId(), typed: throws.map(() => '') },
  )
  const [attempt, setAttempt] = useState(0)
  const take = useTakeReadings(jobId)
  const angles = kept.typed.map((typed) => readQuantity(typed, '°'))
  const faults = attempt === 0 ? [] : throws.flatMap((_, place) => faultAt(angles[place], place))
  const send = (set: MeasurementNew) => take.mutateAsync(set).then(onTaken, () => undefined)
  const keep = () => {
    setAttempt(attempt + 1)
    if (throws.some((_, place) => faultAt(angles[place], place).length > 0)) return
    const values = angles.flatMap((one, place) =>
      one.ok ? [{ place: String(place + 2), mm: one.value, typed: kept.typed[place]!.trim(), unit: 'deg' as const }] : [],
    )
    void send({ id: kept.setId, kind: 'phase', phase, values })
  }
  return (
    <div className="angle-desk">
      <Form enter="next" onSend={keep} aria-label="Angles of the throws">
        <h2 className="read-title">Angles of the throws</h2>
        <p className="soft">
          Degree wheel on the right-hand end, throw 1 at top dead centre is 0°. Turn clockwise, and read each throw at its own top dead
          centre.
        </p>
        {(faults.length > 0 || take.isError) && (
          <ProblemSummary title="The angles are not written down yet." attempt={attempt} faults={faults}>
            {take.isError && <p>{inWords(take.error)}</p>}
          </ProblemSummary>
        )}
        {phases.length > 1 && <Pick label="When" options={phases} value={phase} onChange={setPhase} />}
        <div className="fields">
          {throws.map((nominalDeg, place) => (
            <QuantityField
              // biome-ignore lint/suspicious/noArrayIndexKey: the throws of a crank do not change places
              key={place}
              label={`Throw ${place + 2}`}
              name={`throw-${place + 2}`}
              hint={`should stand at ${nominalDeg}°, ${build.phaseLimitDeg ?? 0}° either way`}
              unit="°"
              value={kept.typed[place] ?? ''}
              error={faults.find((one) => one.name === `throw-${place + 2}`)?.text}
              sayBack={(deg) => offWords(deg, nominalDeg, build.phaseLimitDeg)}
              onChange={(text) => {
                const next = { ...kept, typed: kept.typed.map((was, at) => (at === place ? text : was)) }
                setAngles(next)
                onChange(next)
              }}
            />
          ))}
        </div>
        <Button kind="go" type="submit" busy={take.isPending}>
          It stands like this
        </Button>
      </Form>
      <Reason
        open="Not read, because …"
        label="Why is it not read?"
        confirm="It is not read"
        most={300}
        busy={take.isPending}
        onConfirm={(because) => void send({ id: kept.setId, kind: 'phase', phase, values: [], notReadBecause: because })}
      >
        <p className="soft">The gate then needs the owner, and the certificate prints a dash with this reason.</p>
      </Reason>
    </div>
  )
}

function faultAt(angle: ReturnType<typeof readQuantity> | undefined, place: number): { name: string; text: string }[] {
  const name = `throw-${place + 2}`
  if (angle === undefined || !angle.ok)
    return [{ name, text: angle === undefined || angle.nothingTyped ? 'Read this throw.' : angle.detail }]
  return angle.value >= 0 && angle.value <= 360 ? [] : [{ name, text: 'From 0° to 360°.' }]
}

/** `0.3° past, within`. */
function offWords(deg: number, nominalDeg: number, limitDeg: number | undefined): string {
  if (limitDeg === undefined || deg < 0 || deg > 360) return '\u00a0'
  const { errorDeg, verdict } = phaseError({ measuredDeg: deg, nominalDeg, limitDeg })
  const off = Number(Math.abs(errorDeg).toFixed(2))
  if (off === 0) return 'dead on'
  return `${off}° ${errorDeg > 0 ? 'past' : 'short'}, ${verdict}`
}
