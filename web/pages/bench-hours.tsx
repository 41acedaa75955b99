import { useQuery } from '@tanstack/react-query'
import { useParams } from 'react-router'
import { JobHours } from '#web/features/hours/job-hours.tsx'
import { jobQuery } from '#web/features/jobs/queries.ts'
import { CrankAtBench } from '#web/pages/crank-at-bench.tsx'
import { workOf } from '#web/pages/work-of.ts'

export function BenchHoursPage() {
  const { jobId = '' } = useParams()
  const job = useQuery(jobQuery(jobId))
  return (
    <CrankAtBench work={workOf(job.data)} name="hours">
      {({ job }) => (
        <>
          <h2>Hours on {job.tag}</h2>
          <JobHours jobId={job.id} />
        </>
      )}
    </CrankAtBench>
  )
}
