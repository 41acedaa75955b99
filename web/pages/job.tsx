import '#web/features/jobs/job.css'
import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from 'react-router'
import type { Job } from '#contract/jobs.ts'
import { SinceHomeSection } from '#web/features/comebacks/since-home.tsx'
import { WebLifeOf } from '#web/features/cranks/web-life.tsx'
import { CustomerPicker } from '#web/features/customers/customer-picker.tsx'
import { JobBooked } from '#web/features/jobs/job-booked.tsx'
import { JobLead, JobPromise, JobShaftOf } from '#web/features/jobs/job-head.tsx'
import { JobHistory } from '#web/features/jobs/job-history.tsx'
import { JobNext } from '#web/features/jobs/job-next.tsx'
import { JobOwner } from '#web/features/jobs/job-owner.tsx'
import { JobPapers } from '#web/features/jobs/job-papers.tsx'
import { JobPhotos } from '#web/features/jobs/job-photos.tsx'
import { JobPlace } from '#web/features/jobs/job-place.tsx'
import { JobTold } from '#web/features/jobs/job-told.tsx'
import { JobWaits } from '#web/features/jobs/job-waits.tsx'
import { JobWhose } from '#web/features/jobs/job-whose.tsx'
import { MeasuredCrank } from '#web/features/jobs/measured-crank.tsx'
import { jobQuery } from '#web/features/jobs/queries.ts'
import { Payments } from '#web/features/money/payments.tsx'
import { Quotes } from '#web/features/money/quotes.tsx'
import { peopleQuery } from '#web/features/people/queries.ts'
import { dateIn } from '#web/lib/format.ts'
import { seesCustomers, useHere } from '#web/lib/here.ts'
import { useSheets } from '#web/pages/sheets-of-job.ts'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** One crank, one thread: from the parcel to the phone call. The bench sees it without names, phones and prices. */
export function JobPage() {
  const { id = '' } = useParams()
  const job = useQuery(jobQuery(id))
  return (
    <ShopFrame place="counter">
      {job.data === undefined ? (
        <Page title="The job">
          {job.isPending ? <Loading what="the job" /> : <Failed what="The job" error={job.error} onAgain={() => void job.refetch()} />}
        </Page>
      ) : (
        // A new crank starts with its forms shut and its fields empty.
        <JobSheet key={id} job={job.data} />
      )}
    </ShopFrame>
  )
}

function JobSheet({ job }: { job: Job }) {
  const here = useHere()
  const people = useQuery(peopleQuery)
  const sheets = useSheets(job)
  const today = dateIn(here.zone, Date.now())
  const isCounter = seesCustomers(here.role)
  return (
    <Page
      title={`${job.tag} ${job.engine}`}
      heading={
        <>
          <span className="fig">{job.tag}</span> <Link to={`/engines/${job.crank.engineId}`}>{job.engine}</Link>
        </>
      }
      lead={<JobLead job={job} />}
      aside={<JobPromise job={job} today={today} />}
    >
      <JobShaftOf job={job} today={today} />
      <div className="job-act">
        <JobNext job={job} atBench={here.role !== 'counter'} />
        {isCounter && <JobTold job={job} today={today} />}
      </div>
      {(job.state === 'gone' || job.comebackOf !== undefined) && <SinceHomeSection jobId={job.id} />}
      <MeasuredCrank job={job} />
      {job.kind !== 'check-and-report' && (
        <>
          <WebLifeOf crankId={job.crank.id} jobId={job.id} />
          <p>
            <Link className="stand-alone" to={`/cranks/${job.crank.id}`}>
              This crank over all its jobs
            </Link>
          </p>
        </>
      )}
      <JobHistory jobId={job.id} />
      <div className="job-panels">
        {isCounter && <Quotes job={job} />}
        {isCounter && <Payments job={job} />}
        <JobWaits job={job} today={today} />
        <JobPlace job={job} hands={people.data ?? []} />
        <JobBooked job={job} today={today} />
        <JobPapers job={job} sheets={sheets} />
        {isCounter && <JobWhose job={job} picker={(given) => <CustomerPicker {...given} />} />}
        {here.role === 'owner' && <JobOwner job={job} />}
      </div>
      <JobPhotos jobId={job.id} />
    </Page>
  )
}
