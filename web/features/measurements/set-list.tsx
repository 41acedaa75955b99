import type { Measurement } from '#contract/measurements.ts'
import { cameInLate } from '#core/late-arrival.ts'
import { SIDES } from '#core/runout-verdict.ts'
import { KINDS, type ReadKind } from '#web/features/measurements/kinds.ts'
import { useStrikeReadings } from '#web/features/measurements/queries.ts'
import { dayAndTime, figure, mm } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { lateWords } from '#web/lib/late-words.ts'
import { inWords } from '#web/lib/problem.ts'
import { Reason } from '#web/ui/reason.tsx'

const PHASE_WORDS: Readonly<Record<Measurement['phase'], string>> = {
  received: 'as it came in',
  kit: 'of the kit',
  building: 'on the way',
  built: 'as it stands',
  second: 'second check',
  third: 'third set',
}

/** Earlier sets, newest first; struck-out ones stay, struck through, with who and why. */
export function SetList({ jobId, sets }: { jobId: string; sets: readonly Measurement[] }) {
  if (sets.length === 0) return <p className="soft">No set of this yet.</p>
  return (
    <ol className="set-list" aria-label="Sets taken">
      {[...sets].reverse().map((set) => (
        <SetLine key={set.id} jobId={jobId} set={set} late={cameInLate(set, sets)} />
      ))}
    </ol>
  )
}

function SetLine({ jobId, set, late }: { jobId: string; set: Measurement; late: boolean }) {
  const { zone } = useHere()
  const strike = useStrikeReadings(jobId)
  const when = dayAndTime(set.occurredAt, zone, Date.now())
  const figures =
    set.kind === 'runout' ? <Swings set={set} /> : set.kind === 'phase' ? <Angles set={set} /> : <SetFigures set={set} kind={set.kind} />
  return (
    <li>
      <p className="set-when">
        {when} · {set.by} · {PHASE_WORDS[set.phase]}
        {set.instrument !== undefined && ` · ${set.instrument.name}`}
        {set.temperatureC !== undefined && ` · ${set.temperatureC} °C`}
        {late && <b> · {lateWords('read', set, zone)}</b>}
      </p>
      {set.struck === undefined ? (
        <>
          {figures}
          {set.peakTonnes !== undefined && <span className="soft"> {figure(set.peakTonnes, 1)} t at the gauge</span>}
          {(set.odd ?? []).map((one) => (
            <p key={one.says} className="set-odd">
              {one.says}
            </p>
          ))}
          {set.hidden !== true && (
            <Reason
              open="Strike it out"
              label="Why is it struck out?"
              confirm="Strike it out"
              most={300}
              busy={strike.isPending}
              error={strike.isError ? inWords(strike.error) : undefined}
              onConfirm={(because) => strike.mutate({ setId: set.id, strike: { because } })}
            >
              <p className="soft">It stays in the book, struck out. Then take the set again.</p>
            </Reason>
          )}
        </>
      ) : (
        <>
          <s>{figures}</s>
          <p>
            Struck out by {set.struck.by}, {dayAndTime(set.struck.at, zone, Date.now())}: {set.struck.because}
          </p>
        </>
      )}
    </li>
  )
}

/** Why there is no figure to show; null where there is. */
function noFigures(set: Measurement) {
  if (set.hidden === true) return <span className="soft">hidden until the second reading is in</span>
  return set.notReadBecause === undefined ? null : <span>not read, because {set.notReadBecause}</span>
}

function Angles({ set }: { set: Measurement }) {
  const none = noFigures(set)
  if (none !== null) return none
  return (
    <span className="set-figures-said">
      {set.values.map((value) => (
        <span key={value.place}>
          throw {value.place} <span className="fig">{Number(value.mm.toFixed(3))}°</span>
        </span>
      ))}
    </span>
  )
}

function SetFigures({ kind, set }: { kind: ReadKind; set: Measurement }) {
  const none = noFigures(set)
  if (none !== null) return none
  const stepMm = set.instrument?.stepMm ?? KINDS[kind].usualStepMm
  const says = new Map(KINDS[kind].places.map((one) => [one.place, one.says]))
  return (
    <span className="set-figures-said">
      {set.values.map((value, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a set never changes, and one place may be read twice
        <span key={index}>
          {says.get(value.place) ?? value.place}{' '}
          <span className="fig">
            {value.unit === undefined || value.unit === 'mm' ? mm(value.mm, stepMm) : (value.typed ?? mm(value.mm, stepMm))}
          </span>
        </span>
      ))}
    </span>
  )
}

const DIAL_STEP_MM = 0.01

function Swings({ set }: { set: Measurement }) {
  const none = noFigures(set)
  if (none !== null) return none
  const stepMm = set.instrument?.stepMm ?? DIAL_STEP_MM
  return (
    <span className="set-figures-said">
      {SIDES.map((side) => {
        const end = set.runout?.[side]
        return (
          <span key={side}>
            {side} end{' '}
            {end === undefined ? (
              'not read'
            ) : (
              <>
                <span className="fig">{mm(end.tirMm, stepMm)}</span> full swing, high at {Math.round(end.highAtDeg)}°
              </>
            )}
          </span>
        )
      })}
    </span>
  )
}
