import '#web/features/jobs/bench.css'
import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { useLocation } from 'react-router'
import type { Job } from '#contract/jobs.ts'
import type { Gate } from '#contract/steps.ts'
import { actWord, isEnd, type Step } from '#core/steps.ts'
import { byWay, leftByJoint } from '#web/features/jobs/bench-ways.ts'
import { JobPasses } from '#web/features/jobs/job-passes.tsx'
import { gateQuery, useStep } from '#web/features/jobs/queries.ts'
import { useHere } from '#web/lib/here.ts'
import { newId } from '#web/lib/id.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { Button, GoLink } from '#web/ui/button.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** What the hand says when its step is done. Agreeing and handing over are the counter's. */
const SAYS: Readonly<Partial<Record<Step, string>>> = {
  measured: 'Measured',
  apart: 'It is apart',
  together: 'Width is set',
  trued: 'It is true',
}

export interface BenchNextProps {
  job: Job
  /** On the screen where the step is worked towards, the way there is not offered again. */
  here?: Step
}

/** What comes next at the bench, what it still needs with the way to each, and the button that says it is done. */
export function BenchNext({ job, here }: BenchNextProps) {
  const { role } = useHere()
  const gate = useQuery({ ...gateQuery(job.id), enabled: !isEnd(job.state) && job.state !== 'gone' })
  if (isEnd(job.state) || job.state === 'gone') return <p>Nothing is left to do on this crank at the bench.</p>
  if (gate.isPending) return <Loading what="what comes next" />
  if (gate.isError) return <Failed what="What comes next" error={gate.error} onAgain={() => void gate.refetch()} />
  const { next, missing } = gate.data
  if (next === null || isEnd(next)) return null
  return (
    <section className="bench-next" aria-label="What comes next">
      <h2>Next: {actWord(job.kind, job.state)}</h2>
      <NextAct job={job} next={next} missing={missing} here={here} />
      {role === 'owner' && missing.length > 0 && <JobPasses job={job} next={next} missing={missing} />}
    </section>
  )
}

interface NextActProps {
  job: Job
  next: Step
  missing: Gate['missing']
  here: Step | undefined
}

function NextAct({ job, next, missing, here }: NextActProps) {
  const step = useStep(job.id)
  const [id] = useState(newId)
  const says = SAYS[next]
  const refused = step.error instanceof Problem ? step.error.missing : []
  const lacking = refused.length > 0 ? refused : missing
  const isOpen = missing.length === 0
  if (next === 'agreed') return <p>It waits for a yes to the price; the counter asks and writes it down.</p>
  if (next === 'gone') return <p>Signed. The counter boxes it and hands it over.</p>
  return (
    <>
      {lacking.length > 0 && <MissingThings job={job} missing={lacking} isGo={here === undefined} />}
      {here === undefined && next === 'signed' && (
        <GoLink kind="go" to={`/bench/${job.id}/check`}>
          To the second check
        </GoLink>
      )}
      {step.isError && refused.length === 0 && (
        <ProblemSummary title="It did not move on.">
          <p>{inWords(step.error)}</p>
        </ProblemSummary>
      )}
      {step.isError && refused.length > 0 && <p role="alert">Not yet: the list above says what is missing.</p>}
      {says !== undefined && (
        <Button kind={isOpen ? 'go' : 'quiet'} busy={step.isPending} onClick={() => step.mutate({ id, to: next })}>
          {says}
        </Button>
      )}
    </>
  )
}

/** Each missing thing with the way to it; the first of the ways is what the hand does now. */
function MissingThings({ job, missing, isGo }: { job: Job; missing: Gate['missing']; isGo: boolean }) {
  const { pathname, search } = useLocation()
  const ids = { id: job.id, engineId: job.crank.engineId }
  const groups = byWay(missing, ids)
  const left = leftByJoint(missing, ids)
  const first = groups.find((group) => group.way !== undefined)
  return (
    <>
      {left !== undefined && <p className="bench-left">{left}.</p>}
      <ul className="bench-missing" aria-label="Still missing">
        {groups.map((group) => (
          <li key={group.way?.to ?? group.things[0]?.detail}>
            <div className="bench-things">
              {group.things.map((one) => (
                <p key={one.detail}>{one.detail}</p>
              ))}
            </div>
            {group.way !== undefined && group.way.to !== `${pathname}${search}` && (
              <GoLink to={group.way.to} kind={isGo && group === first ? 'go' : 'quiet'}>
                {group.way.says}
              </GoLink>
            )}
          </li>
        ))}
      </ul>
    </>
  )
}
