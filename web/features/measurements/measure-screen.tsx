import type { CrankBuild } from '#core/crank-build.ts'
import { useJointHere } from '#web/lib/joint-here.ts'
import '#web/features/measurements/measurements.css'
import { type ReactNode, useState } from 'react'
import type { Instrument } from '#contract/instruments.ts'
import type { Measurement } from '#contract/measurements.ts'
import type { JobKind, JobState } from '#core/steps.ts'
import { type Around, AroundSet } from '#web/features/measurements/around-set.tsx'
import { KINDS, nearOf, type Phase, phasesFor, placesOf, type ReadKind, type SheetFigures } from '#web/features/measurements/kinds.ts'
import { askedOf, type OursOfEngine, oddKeyed } from '#web/features/measurements/odd-words.ts'
import { useTakeReadings } from '#web/features/measurements/queries.ts'
import { SetDesk } from '#web/features/measurements/set-desk.tsx'
import { SetList } from '#web/features/measurements/set-list.tsx'
import { SetSays } from '#web/features/measurements/set-says.tsx'
import { figuresTaken, type KeptSet, readKeptSet, resumeSet, setForBook, startSet } from '#web/features/measurements/set-state.ts'
import { tabletDrafts, useDraft } from '#web/lib/draft.ts'
import { newId } from '#web/lib/id.ts'
import { instrumentFor } from '#web/lib/instrument-for.ts'
import { useIsWaiting } from '#web/lib/outbox/use-outbox.ts'
import { inWords } from '#web/lib/problem.ts'
import { readQuantity } from '#web/lib/quantity.ts'
import { Button } from '#web/ui/button.tsx'
import { Reason } from '#web/ui/reason.tsx'
import { Loading } from '#web/ui/states.tsx'

export interface MeasureScreenProps {
  jobId: string
  personId: string
  kind: ReadKind
  jobKind: JobKind
  state: JobState
  figures: SheetFigures
  /** How the crank is put together; absent: one throw. */
  build?: CrankBuild | undefined
  instruments: readonly Instrument[]
  /** All sets of this kind on this job, oldest first. */
  sets: readonly Measurement[]
  /** Our own last widths of this engine. */
  ours?: OursOfEngine | undefined
  /** The other half of what a fit needs, drawn from what is keyed now. */
  beneath?: (taken: Readonly<Record<string, number>>, phase: Phase) => ReactNode
  /** The way on, once the set is in the book. */
  onward: ReactNode
}

/** One kind of reading: the set being taken, and the sets before it. What is keyed is kept on the tablet until the book has it. */
export function MeasureScreen(props: MeasureScreenProps) {
  const { jobId, personId, kind, sets, onward } = props
  const joint = useJointHere()
  const draft = useDraft(`${kind}:${personId}:${jobId}${joint === undefined ? '' : `:${joint}`}`, readKeptSet, tabletDrafts)
  // A set that is kept ends its draft; the next one starts from nothing, under a key of its own.
  const [round, setRound] = useState(0)
  const [kept, setKept] = useState<string | undefined>(undefined)
  const isWaiting = useIsWaiting(kept)
  if (draft.state === 'reading') return <Loading what="what was keyed" />
  return (
    <div className="measure">
      <p className="measure-kept" role="status">
        {kept !== undefined && (isWaiting ? 'The set is saved on this tablet, not yet in the book.' : 'The set is in the book.')}
      </p>
      {kept !== undefined ? (
        <div className="buttons">
          {onward}
          <Button onClick={() => setKept(undefined)}>Read another set</Button>
        </div>
      ) : (
        <Taking
          {...props}
          key={round}
          found={draft.found}
          onChange={draft.keep}
          onTaken={async (id) => {
            await draft.clear()
            setRound(round + 1)
            setKept(id)
          }}
        />
      )}
      {draft.state === 'not-kept' && <p>This tablet keeps nothing: finish the set before leaving this page.</p>}
      <section aria-label="Sets before">
        <h2>Taken so far</h2>
        <SetList jobId={jobId} sets={sets} />
      </section>
    </div>
  )
}

interface TakingProps extends Omit<MeasureScreenProps, 'onward'> {
  found: KeptSet | undefined
  onChange(kept: KeptSet): void
  onTaken(id: string): Promise<void>
}

function Taking({ found, onChange, onTaken, ...props }: TakingProps) {
  const { jobId, kind, jobKind, state, figures, build, instruments, sets, ours, beneath } = props
  const { title, takes, example, how, usualStepMm, instruments: wanted } = KINDS[kind]
  const places = placesOf(kind, build)
  const fitting = instruments.filter((one) => !one.ended && wanted.includes(one.kind))
  const phases = phasesFor(kind, jobKind, state)
  const nearMm = nearOf(kind, figures)
  const [around, setAround] = useState<Around>(() => ({
    phase: phases[0].value,
    instrumentId: instrumentFor(fitting, sets.at(-1)?.instrument?.id, nearMm)?.id ?? '',
    temperature: '',
  }))
  const [start] = useState(() => (found === undefined ? startSet(newId(), places) : resumeSet(found, places)))
  const take = useTakeReadings(jobId)
  const isNotRead = take.variables?.notReadBecause !== undefined
  const stepMm = fitting.find((one) => one.id === around.instrumentId)?.stepMm ?? usualStepMm
  const warmth = readQuantity(around.temperature, '°C')
  const temperatureC = warmth.ok ? warmth.value : undefined
  const phase = phases.some((one) => one.value === around.phase) ? around.phase : phases[0].value

  // By promise and not by a callback of the mutation: once the book is read anew this screen may be gone.
  const send = (set: Parameters<typeof take.mutateAsync>[0]) => {
    take.mutateAsync(set).then(
      (taken) => onTaken(taken.id),
      () => undefined,
    )
  }
  const oddOf = (kept: KeptSet) => ({ kind, phase, taken: figuresTaken(kept, places), temperatureC, figures, ours })
  const said = { kind, phase, temperatureC, instrumentId: around.instrumentId === '' ? undefined : around.instrumentId }
  return (
    <SetDesk
      start={start}
      places={places}
      stepMm={stepMm}
      nearMm={nearMm}
      takes={takes}
      example={example}
      sending={take.isPending}
      error={isNotRead ? null : take.error}
      ask={(kept, at) => askedOf(oddOf(kept), places[at]?.place ?? '')}
      odd={(kept) => oddKeyed(oddOf(kept)).map((one) => one.says)}
      onChange={onChange}
      onKeep={(kept) => send(setForBook(kept, places, said))}
      head={
        <>
          <h2 className="read-title">{title}</h2>
          <p className="soft">{how}</p>
          <AroundSet around={{ ...around, phase }} phases={phases} instruments={fitting} onChange={setAround} />
        </>
      }
      says={(kept) => {
        const taken = figuresTaken(kept, places)
        return (
          <>
            <SetSays kind={kind} taken={taken} figures={figures} stepMm={stepMm} temperatureC={temperatureC} />
            {beneath?.(taken, phase)}
          </>
        )
      }}
    >
      <Reason
        open="Not read, because …"
        label="Why is it not read?"
        confirm="It is not read"
        most={300}
        busy={take.isPending}
        error={isNotRead && take.isError ? inWords(take.error) : undefined}
        onConfirm={(because) => send({ id: start.setId, kind, phase, values: [], notReadBecause: because })}
      >
        <p className="soft">The gate then needs the owner, and the certificate prints a dash with this reason.</p>
      </Reason>
    </SetDesk>
  )
}
