import '#web/features/gauge-studies/gauge-studies.css'
import type { GaugeStudy } from '#contract/gauge-studies.ts'
import { useGiveUp } from '#web/features/gauge-studies/queries.ts'
import { ReadNext } from '#web/features/gauge-studies/read-next.tsx'
import { StudyResult } from '#web/features/gauge-studies/study-result.tsx'
import { counted, dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { lengthReadBack } from '#web/ui/measure-field.tsx'
import { Reason } from '#web/ui/reason.tsx'

/** One study: what you read next while it is open, what it comes to once all is in. */
export function StudyScreen({ study }: { study: GaugeStudy }) {
  const { zone, role } = useHere()
  const now = Date.now()
  return (
    <div className="study">
      <p>
        {study.what}, read with {study.instrument.name} · {counted(study.parts.length, 'part')},{' '}
        {counted(study.people.length, 'person', 'people')}, {study.rounds === 2 ? 'twice' : `${study.rounds} times`} each
        {study.toleranceMm === undefined ? '' : ` · window ${lengthReadBack(study.toleranceMm, 'mm')}`}
      </p>
      {study.state === 'given-up' && (
        <p>
          Given up{study.closedAt === undefined ? '' : `, ${dayAndTime(study.closedAt, zone, now)}`}: {study.closedBecause}. Its readings
          stay hidden.
        </p>
      )}
      {study.state === 'open' && (
        <>
          {study.next !== undefined && <ReadNext study={study} next={study.next} />}
          <section aria-labelledby="who-reads">
            <h2 id="who-reads">Who reads</h2>
            <ul className="study-people">
              {study.people.map((one) => (
                <li key={one.id}>
                  {one.name}: {one.taken} of {one.wanted} readings in
                </li>
              ))}
            </ul>
            <p className="soft">Nobody sees a reading, not even their own earlier ones, until all are in.</p>
          </section>
          {role !== 'counter' && <GiveUp id={study.id} />}
        </>
      )}
      {study.result !== undefined && <StudyResult study={study} result={study.result} />}
    </div>
  )
}

function GiveUp({ id }: { id: string }) {
  const up = useGiveUp(id)
  return (
    <Reason
      open="Give it up"
      label="Why will the readings not all come in?"
      confirm="Give it up"
      most={200}
      busy={up.isPending}
      error={up.isError ? inWords(up.error) : undefined}
      onConfirm={(because) => up.mutate(because)}
    >
      <p>Its readings stay in the book and are never shown.</p>
    </Reason>
  )
}
