import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { useWait } from '#web/features/jobs/queries.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'

/** Tells the counter that the customer has to be asked: the job waits for a yes, with what about. */
export function AskCustomer({ job, about }: { job: Job; about: string }) {
  const wait = useWait(job.id)
  const [id] = useState(newId)
  if (job.waiting.some((one) => one.what === 'yes')) return <p>It waits for a yes; the counter knows.</p>
  return (
    <>
      <Button busy={wait.isPending} onClick={() => wait.mutate({ id, what: 'yes', note: about.slice(0, 200) })}>
        Counter: ask the customer
      </Button>
      {wait.isError && (
        <p className="wrong" role="alert">
          {inWords(wait.error)}
        </p>
      )}
    </>
  )
}
