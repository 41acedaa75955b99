import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Gate, Job } from '#contract/jobs.ts'
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
  signed: 'Sign it',
  gone: 'It is gone',
}

export interface JobNextProps {
  job: Job
  /** Where the bench works on this crank; absent for those who do not read. */
  benchAt?: string | undefined
  /** Whether this person may sign certificates. */
  maySign: boolean
}

/** The one thing to do next, and what is still missing for it, in plain words. */
export function JobNext({ job, benchAt, maySign }: JobNextProps) {
  const here = useHere()
  const gate = useQuery({ ...gateQuery(job.id), enabled: !isEnd(job.state) && job.state !== 'gone' })
  if (isEnd(job.state) || job.state === 'gone') return null
  if (gate.isPending) return <Loading what="what comes next" />
  if (gate.isError) return <Failed what="What comes next" error={gate.error} onAgain={() => void gate.refetch()} />
  const { next, missing } = gate.data
  if (next === null || isEnd(next)) return null
  return (
    <section className="job-next" aria-label="What comes next">
      <NextAct job={job} next={next} missing={missing} benchAt={benchAt} maySign={maySign} />
      {missing.length > 0 && (
        <div className="job-missing">
          <p>
            <b>Next: {actWord(job.kind, job.state)}.</b> Still missing:
          </p>
          <ul>
            {missing.map((one) => (
              <li key={one.code}>
                {one.detail}
                {one.pass === 'never' && <b> Nobody can let this pass.</b>}
              </li>
            ))}
          </ul>
        </div>
      )}
      {here.role === 'owner' && missing.length > 0 && <JobPasses job={job} next={next} missing={missing} />}
    </section>
  )
}

interface NextActProps extends JobNextProps {
  next: Step
  missing: Gate['missing']
}

function NextAct({ job, next, missing, benchAt, maySign }: NextActProps) {
  const here = useHere()
  if (job.waiting.some((one) => one.what === 'kit')) return <KitIsIn job={job} kind="go" />
  if (next === 'gone' && here.role !== 'bench') {
    return (
      <GoLink kind="go" to={`/jobs/${job.id}/hand-over`}>
        {missing.some((one) => one.code === 'box-list') ? 'Box it' : 'Hand it over'}
      </GoLink>
    )
  }
  if (missing.length === 0) {
    if (next === 'signed' && !maySign) return <p className="soft">Nothing is missing. Somebody who may sign signs it.</p>
    return <StepButton job={job} next={next} />
  }
  if (next === 'agreed' && here.role !== 'bench') {
    const isAsked = !missing.some((one) => one.code === 'quote')
    return (
      <a className="go" href="#money">
        {isAsked ? 'Enter the yes' : 'Write a quote'}
      </a>
    )
  }
  if (benchAt === undefined || next === 'agreed') return null
  return (
    <GoLink kind="go" to={benchAt}>
      To the bench
    </GoLink>
  )
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
