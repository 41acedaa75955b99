import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { doneWord, isEnd, nextStep } from '#core/steps.ts'
import { gateQuery, useStep } from '#web/features/jobs/queries.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** The last press: it is gone. Open once the box is checked and it is paid, or the owner gave a word. */
export function HandOver({ job, onGone }: { job: Job; onGone(): void }) {
  const isNext = !isEnd(job.state) && nextStep(job.kind, job.state) === 'gone'
  const gate = useQuery({ ...gateQuery(job.id), enabled: isNext })
  const step = useStep(job.id)
  const [id] = useState(newId)
  if (!isNext) return <p>It stands at “{doneWord(job.state)}”, so it does not go home now.</p>
  if (gate.isPending) return <Loading what="what is still missing" />
  if (gate.isError) return <Failed what="What is still missing" error={gate.error} onAgain={() => void gate.refetch()} />
  const { missing } = gate.data
  return (
    <>
      {missing.length > 0 && (
        <div className="job-missing">
          <p>Before it goes:</p>
          <ul>
            {missing.map((one) => (
              <li key={one.detail}>{one.detail}</li>
            ))}
          </ul>
        </div>
      )}
      {step.isError && (
        <ProblemSummary title="It is still here.">
          <p>{inWords(step.error)}</p>
        </ProblemSummary>
      )}
      {missing.length === 0 && (
        <>
          <p>Show it turning on the stand before it goes in the box; it is worth more than the paper.</p>
          <Button kind="go" busy={step.isPending} onClick={() => step.mutate({ id, to: 'gone' }, { onSuccess: onGone })}>
            It is gone
          </Button>
        </>
      )}
    </>
  )
}
