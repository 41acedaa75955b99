import type { ReactNode } from 'react'
import type { Job } from '#contract/jobs.ts'
import { JobCorrections } from '#web/features/jobs/job-corrections.tsx'
import { BY_WORDS, hoursWords, KIT_FROM_WORDS, WHY_WORDS } from '#web/features/jobs/words.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { seesCustomers, useHere } from '#web/lib/here.ts'
import { Fold } from '#web/ui/fold.tsx'
import { Over } from '#web/ui/notice.tsx'

/** `keys: 2, primary gear` */
function cameWithWords(cameWith: Job['cameWith']): string {
  return cameWith.map((one) => (one.count === undefined ? one.what : `${one.what}: ${one.count}`)).join(', ')
}

/** What was written at the counter when it came in, and a way to correct it. */
export function JobBooked({ job, today }: { job: Job; today: string }) {
  const here = useHere()
  const isNew = dateIn(here.zone, job.bookedAt) === today
  return (
    <section aria-label="As booked" className="job-booked">
      <h2>As booked, {day(dateIn(here.zone, job.bookedAt), today)}</h2>
      <dl className="facts">
        <Fact name="Came with it">{job.cameWith.length === 0 ? 'nothing but the crank' : cameWithWords(job.cameWith)}</Fact>
        <Fact name="As it lay here">
          {job.condition.length === 0 ? 'no damage seen' : job.condition.join(', ')}
          {job.conditionNote !== undefined && <>. {job.conditionNote}</>}
          {isNew && seesCustomers(here.role) && job.condition.includes('box holed') && (
            <>
              {' '}
              <Over>box damage: tell the carrier today</Over>
            </>
          )}
        </Fact>
        <Fact name="Why now">{WHY_WORDS[job.whyNow]}</Fact>
        <Fact name="Hours">{hoursWords(job.hours, job.hoursHow)}</Fact>
        <Fact name="Rebuilt before">{job.earlierRebuild}</Fact>
        <Fact name="Use">{job.usedFor}</Fact>
        <Fact name="Fuel and oil">{job.oil}</Fact>
        <Fact name="Who fits it">{job.whoFits}</Fact>
        <Fact name="Kit">{KIT_FROM_WORDS[job.kitFrom]}</Fact>
        <Fact name="Came">{BY_WORDS[job.cameBy]}</Fact>
        <Fact name="Goes back">
          {job.goesBy === 'counter' ? 'fetched here' : 'by carrier'}
          {job.oldPartsBack ? ', old parts with it' : ''}
        </Fact>
        <Fact name="Marks">{job.crank.marks}</Fact>
        {seesCustomers(here.role) && (
          <Fact name="Yes to the looking-over fee">
            {job.feeYesBy === undefined ? undefined : `${job.feeYesBy}${job.feeYesHow === undefined ? '' : `, ${job.feeYesHow}`}`}
          </Fact>
        )}
        <Fact name="Also done">{job.also}</Fact>
        <Fact name="Not done">{job.notDone}</Fact>
      </dl>
      {seesCustomers(here.role) && <Fold open="Correct it">{(shut) => <JobCorrections job={job} onShut={shut} />}</Fold>}
    </section>
  )
}

function Fact({ name, children }: { name: string; children: ReactNode }) {
  if (children === undefined || children === '') return null
  return (
    <>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </>
  )
}
