import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { doneWord } from '#core/steps.ts'
import { cranksQuery } from '#web/features/jobs/queries.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Empty, Failed, Loading } from '#web/ui/states.tsx'

/** A customer's cranks, each with every time it was here. */
export function CranksWithJobs({ customerId }: { customerId: string }) {
  const here = useHere()
  const cranks = useQuery(cranksQuery({ customerId }))
  const today = dateIn(here.zone, Date.now())
  return (
    <section aria-label="Their cranks" className="cranks-here">
      <h2>Their cranks</h2>
      {cranks.isPending && <Loading what="their cranks" />}
      {cranks.isError && <Failed what="Their cranks" error={cranks.error} onAgain={() => void cranks.refetch()} />}
      {cranks.data?.length === 0 && <Empty>No crank of theirs has been here.</Empty>}
      <ul className="plain-list crank-list">
        {(cranks.data ?? []).map((crank) => (
          <li key={crank.id}>
            <div>
              <Link to={`/engines/${crank.engineId}`}>{crank.engine}</Link>
              {crank.engineNumber !== undefined && ` · ${crank.engineNumber}`}
              {crank.welded && ' · pin welded'}
              <ul>
                {crank.jobs.map((job) => (
                  <li key={job.id}>
                    <span className="tag">
                      <Link to={`/jobs/${job.id}`}>{job.tag}</Link>
                    </span>{' '}
                    booked {day(dateIn(here.zone, job.bookedAt), today)} · {doneWord(job.state)}
                    {job.kit !== undefined && ` · ${job.kit}`}
                    {job.certificate !== undefined && ` · certificate ${job.certificate}`}
                  </li>
                ))}
              </ul>
            </div>
          </li>
        ))}
      </ul>
    </section>
  )
}
