import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import type { Gate } from '#contract/steps.ts'
import { actWord, isEnd, type Step } from '#core/steps.ts'
import { JobPasses } from '#web/features/jobs/job-passes.tsx'
import { KitIsIn } from '#web/features/jobs/job-waits.tsx'
import { gateQuery, useStep } from '#web/features/jobs/queries.ts'
import { useHere } from '#web/lib/here.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, GoLink } from '#web/ui/button.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** What the hand says when a step is done. */
const DONE_BUTTONS: Readonly<Record<Step, string>> = {
  booked: 'It is booked in',
  measured: 'It is measured',
  agreed: 'It is agreed',
  apart: 'It is apart',
  together: 'It is together',
  trued: 'It is true',
  signed: 'It is signed',
  gone: 'It is gone',
}

export interface JobNextProps {
  job: Job
  /** Whether this person reads and signs at the bench. */
  atBench: boolean
}

/** The one thing to do next, and what is still missing for it, in plain words. */
export function JobNext({ job, atBench }: JobNextProps) {
  const here = useHere()
  const gate = useQuery({ ...gateQuery(job.id), enabled: !isEnd(job.state) && job.state !== 'gone' })
  if (isEnd(job.state) || job.state === 'gone') return null
  if (gate.isPending) return <Loading what="what comes next" />
  if (gate.isError) return <Failed what="What comes next" error={gate.error} onAgain={() => void gate.refetch()} />
  const { next, missing } = gate.data
  if (next === null || isEnd(next)) return null
  // A sheet that is not made is nothing to let pass: it is made.
  // Nor is what it takes to go: the box is checked, and that it may go unpaid is the owner’s word on the box list.
  const canPass = next === 'gone' ? [] : missing.filter((one) => !one.code.startsWith('certificate'))
  return (
    <section className="job-next" aria-label="What comes next">
      <NextAct job={job} next={next} missing={missing} atBench={atBench} />
      {missing.length > 0 && (
        <div className="job-missing">
          <p>
            <b>Next: {actWord(job.kind, job.state)}.</b> Still missing:
          </p>
          <ul>
            {missing.map((one) => (
              <li key={one.detail}>
                {one.detail}
                {one.pass === 'never' && <b> Nobody can let this pass.</b>}
              </li>
            ))}
          </ul>
        </div>
      )}
      {here.role === 'owner' && canPass.length > 0 && <JobPasses job={job} next={next} missing={canPass} />}
    </section>
  )
}

interface NextActProps extends JobNextProps {
  next: Step
  missing: Gate['missing']
}

function NextAct({ job, next, missing, atBench }: NextActProps) {
  const here = useHere()
  if (job.waiting.some((one) => one.what === 'kit')) return <KitIsIn job={job} kind="go" />
  if (next === 'gone' && here.role !== 'bench') {
    return (
      <GoLink kind="go" to={`/jobs/${job.id}/hand-over`}>
        {missing.some((one) => one.code === 'box-list') ? 'Box it' : 'Hand it over'}
      </GoLink>
    )
  }
  if (next === 'agreed' && here.role === 'bench') return <p className="soft">The counter asks for the yes.</p>
  // The second check signs it together with its sheet, so there is no button for that here.
  if (missing.length === 0 && next !== 'signed') return <StepButton job={job} next={next} />
  if (next === 'agreed') {
    const isAsked = !missing.some((one) => one.code === 'quote')
    return (
      <a className="go" href="#money">
        {isAsked ? 'Enter the yes' : 'Write a quote'}
      </a>
    )
  }
  if (!atBench) return null
  const { to, says } = benchWay(job.id, next, missing)
  return (
    <GoLink kind="go" to={to}>
      {says}
    </GoLink>
  )
}

/** The screen of the bench where what is missing is done. */
function benchWay(jobId: string, next: Step, missing: Gate['missing']): { to: string; says: string } {
  if (next === 'trued') return { to: `/bench/${jobId}/true`, says: 'True it at the bench' }
  if (next !== 'signed') return { to: `/bench/${jobId}`, says: 'To the bench' }
  const isPaperOnly = missing.every((one) => one.code.startsWith('certificate'))
  return isPaperOnly
    ? { to: `/bench/${jobId}/sign`, says: 'Make its sheet and sign it' }
    : { to: `/bench/${jobId}/check`, says: 'Read it a second time' }
}

function StepButton({ job, next }: { job: Job; next: Step }) {
  const step = useStep(job.id)
  // The act's own id: a second press after no answer is the same act.
  const [id] = useState(newId)
  return (
    <>
      {step.isError && (
        <ProblemSummary title="It did not move on.">
          <p>{inWords(step.error)}</p>
        </ProblemSummary>
      )}
      <Button kind="go" busy={step.isPending} onClick={() => step.mutate({ id, to: next })}>
        {DONE_BUTTONS[next]}
      </Button>
    </>
  )
}
