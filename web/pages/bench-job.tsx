import { hasSeveralThrows } from '#core/crank-build.ts'
import '#web/features/jobs/job.css'
import '#web/styles/lists.css'
import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from 'react-router'
import type { Engine } from '#contract/engines.ts'
import type { Job } from '#contract/jobs.ts'
import { buildWords } from '#web/features/engines/words.ts'
import { BenchAbout } from '#web/features/jobs/bench-about.tsx'
import { TakeInHand } from '#web/features/jobs/bench-mine.tsx'
import { BenchNext } from '#web/features/jobs/bench-next.tsx'
import { JobShaftOf } from '#web/features/jobs/job-head.tsx'
import { JobHistory } from '#web/features/jobs/job-history.tsx'
import { JobPhotos } from '#web/features/jobs/job-photos.tsx'
import { JobPlace } from '#web/features/jobs/job-place.tsx'
import { jobQuery } from '#web/features/jobs/queries.ts'
import { KINDS, READ_KINDS } from '#web/features/measurements/kinds.ts'
import { peopleQuery } from '#web/features/people/queries.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { CrankAtBench } from '#web/pages/crank-at-bench.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { workOf } from '#web/pages/work-of.ts'

/** A crank at the bench: what is next and what it needs, who has it, what we know of it. */
export function BenchJobPage() {
  const { jobId = '' } = useParams()
  const job = useQuery(jobQuery(jobId))
  return (
    <CrankAtBench work={workOf(job.data)} name="at the bench">
      {(facts) => <AtTheBench job={facts.job} sheet={facts.sheet} />}
    </CrankAtBench>
  )
}

function AtTheBench({ job, sheet }: { job: Job; sheet: Engine }) {
  const here = useHere()
  const me = useMe()
  const people = useQuery(peopleQuery)
  const today = dateIn(here.zone, Date.now())
  return (
    <>
      <JobShaftOf job={job} today={today} />
      {job.comebackOf !== undefined && (
        <p>
          It came back after {job.comebackOf.tag}
          {job.comebackWhy !== undefined && `: “${job.comebackWhy}”`}.{' '}
          <Link className="bench-way" to={`/bench/${job.id}/comeback`}>
            What you find on it
          </Link>
        </p>
      )}
      <BenchNext job={job} />
      <div className="bench-panels">
        <div>
          <JobPlace job={job} hands={people.data ?? []} />
          <TakeInHand job={job} name={me.name} />
          <p>
            {job.promisedOn === undefined ? 'Nothing promised.' : `Promised ${day(job.promisedOn, today)}.`}{' '}
            <a className="stand-alone" href={`/api/jobs/${job.id}/bench-sheet.pdf`} target="_blank" rel="noopener">
              Print the bench sheet
            </a>
          </p>
        </div>
        <BenchAbout job={job} sheet={sheet} built={buildWords(sheet)} />
      </div>
      <section className="bench-more" aria-label="Everything on this crank">
        <h2>Everything on this crank</h2>
        <AllWays job={job} sheet={sheet} />
      </section>
      <div className="bench-rest">
        <JobHistory jobId={job.id} />
        <JobPhotos jobId={job.id} />
      </div>
    </>
  )
}

function AllWays({ job, sheet }: { job: Job; sheet: Engine }) {
  const several = hasSeveralThrows(sheet.build ?? null)
  const ways = [
    { to: 'read/runout', says: 'Both ends as it came in' },
    ...READ_KINDS.filter((kind) => kind !== 'centre' || several).map((kind) => ({ to: `read/${kind}`, says: KINDS[kind].title })),
    ...(several ? [{ to: 'read/phase', says: 'Angles of the throws' }] : []),
    { to: 'part', says: 'Press apart' },
    { to: 'kit', says: 'Kit' },
    { to: 'press', says: 'Press together' },
    { to: 'true', says: 'True it' },
    { to: 'weld', says: 'Weld' },
    { to: 'check', says: 'Second check' },
    { to: 'hours', says: 'Hours' },
  ]
  return (
    <ul className="bench-all">
      {ways.map((way) => (
        <li key={way.to}>
          <Link className="bench-way" to={`/bench/${job.id}/${way.to}`}>
            {way.says}
          </Link>
        </li>
      ))}
    </ul>
  )
}
