import type { Job } from '#contract/jobs.ts'
import { CustomerLink } from '#web/features/jobs/tagged.tsx'
import { dayAndTime } from '#web/lib/format.ts'
import { seesCustomers, useHere } from '#web/lib/here.ts'

export interface SheetLink {
  /** `Certificate 0041, replaced by 0043` */
  says: string
  href: string
}

/** Papers of this crank, what the owner let pass, and the customer's secret address. */
export function JobPapers({ job, sheets }: { job: Job; sheets: readonly SheetLink[] }) {
  const here = useHere()
  const isCounter = seesCustomers(here.role)
  const papers = [
    ...sheets,
    { says: 'Label', href: `/api/jobs/${job.id}/label.pdf` },
    ...(isCounter ? [{ says: 'Receipt', href: `/api/jobs/${job.id}/receipt.pdf` }] : []),
    { says: 'Bench sheet', href: `/api/jobs/${job.id}/bench-sheet.pdf` },
  ]
  return (
    <section aria-label="Papers">
      <h2>Papers</h2>
      <ul className="plain-list">
        {papers.map((paper) => (
          <li key={paper.href}>
            <a className="stand-alone" href={paper.href} target="_blank" rel="noopener">
              {paper.says}
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
