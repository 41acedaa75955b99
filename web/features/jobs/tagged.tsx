import '#web/features/jobs/tagged.css'
import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { useCustomerLink } from '#web/features/jobs/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Field } from '#web/ui/field.tsx'
import { NoticeLine, Over, ProblemSummary } from '#web/ui/notice.tsx'

/** The tag, large enough to be read out across the counter, and what prints now. */
export function TagAndPapers({ job }: { job: Job }) {
  return (
    <>
      <p className="tag-large fig">{job.tag}</p>
      <p>
        {job.engine}
        {job.customer !== undefined && ` for ${job.customer.name}`}
      </p>
      {job.condition.includes('box holed') && (
        <p>
          <Over>box damage: tell the carrier today</Over>
        </p>
      )}
      <Papers job={job} />
    </>
  )
}

/** Label and receipt open as PDF of their own size; they print from there. */
function Papers({ job }: { job: Job }) {
  return (
    <Buttons>
      <a className="go" href={`/api/jobs/${job.id}/label.pdf`} target="_blank" rel="noopener">
        Print the label
      </a>
      <a className="quiet" href={`/api/jobs/${job.id}/receipt.pdf`} target="_blank" rel="noopener">
        Print the receipt
      </a>
    </Buttons>
  )
}

/** A secret address for this customer's page. It is shown once; the book keeps no copy that anybody could read. */
export function CustomerLink({ job }: { job: Job }) {
  const making = useCustomerLink(job.id)
  const [said, setSaid] = useState('')
  const url = making.data?.url
  const copy = async (text: string) => {
    try {
      await navigator.clipboard.writeText(text)
      setSaid('Copied.')
    } catch {
      setSaid('It could not be copied here. Mark the address and copy it by hand.')
    }
  }
  return (
    <section aria-label="The customer’s page">
      <h2>The customer’s page</h2>
      <p className="soft">
        A secret address where they see where the crank is, without a sign-in. It is shown here once; a new one makes the one before
        useless.
      </p>
      {making.isError && (
        <ProblemSummary title="No address was made.">
          <p>{inWords(making.error)}</p>
        </ProblemSummary>
      )}
      {url === undefined ? (
        <Button busy={making.isPending} onClick={() => making.mutate(null)}>
          Make the secret address
        </Button>
      ) : (
        <>
          <Field label="Secret address">
            {(wiring) => <input {...wiring} type="text" readOnly value={url} onFocus={(event) => event.target.select()} />}
          </Field>
          <Buttons>
            <Button onClick={() => void copy(url)}>Copy it</Button>
            {job.customer?.mail !== undefined && (
              <a
                className="quiet"
                href={`mailto:${job.customer.mail}?subject=${encodeURIComponent(`Your crank ${job.tag}`)}&body=${encodeURIComponent(url)}`}
              >
                Mail it to {job.customer.mail}
              </a>
            )}
          </Buttons>
        </>
      )}
      <NoticeLine>{said}</NoticeLine>
    </section>
  )
}
