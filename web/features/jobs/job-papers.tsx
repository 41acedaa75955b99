import type { Job } from '#contract/jobs.ts'
import { CustomerLink } from '#web/features/jobs/tagged.tsx'
import { dayAndTime } from '#web/lib/format.ts'
import { seesCustomers, useHere } from '#web/lib/here.ts'

/** Papers of this crank, what the owner let pass, and the customer's secret address. */
export function JobPapers({ job }: { job: Job }) {
  const here = useHere()
  const isCounter = seesCustomers(here.role)
  const papers = [
    { name: 'Label', path: 'label.pdf' },
    ...(isCounter ? [{ name: 'Receipt', path: 'receipt.pdf' }] : []),
    { name: 'Bench sheet', path: 'bench-sheet.pdf' },
  ]
  return (
    <section aria-label="Papers">
      <h2>Papers</h2>
      <ul className="plain-list">
        {papers.map((paper) => (
          <li key={paper.path}>
            <a href={`/api/jobs/${job.id}/${paper.path}`} target="_blank" rel="noopener">
              {paper.name}
            </a>
          </li>
        ))}
      </ul>
      {job.passes.length > 0 && (
        <>
          <h3>Let pass by the owner</h3>
          <ul className="plain-list">
            {job.passes.map((pass) => (
              <li key={`${pass.step} ${pass.code} ${pass.at}`}>
                <span>
                  {pass.what} Because: {pass.reason}{' '}
                  <small>
                    · {pass.by}, {dayAndTime(pass.at, here.zone, Date.now())}
                    {pass.customerToldAt !== undefined && `, customer told ${dayAndTime(pass.customerToldAt, here.zone, Date.now())}`}
                  </small>
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
      {isCounter && <CustomerLink job={job} />}
    </section>
  )
}
