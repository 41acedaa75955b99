import { Link } from 'react-router'
import type { Job } from '#contract/jobs.ts'
import { doneWord, isEnd, type Step } from '#core/steps.ts'
import { hoursWords, KIND_WORDS, lateWords, WHY_WORDS, waitsShort } from '#web/features/jobs/words.ts'
import { dateIn, day, dayAndTime } from '#web/lib/format.ts'
import { type Here, useHere } from '#web/lib/here.ts'
import { JobShaft } from '#web/ui/job-shaft.tsx'
import { Over } from '#web/ui/notice.tsx'

/** `pressed once, by the maker, and here twice` */
export function pressedWords({ pressedBefore, pressedHere }: Job['crank']): string {
  const here = Math.max(pressedHere.left, pressedHere.right)
  const before = pressedBefore === 1 ? 'once, by the maker' : times(pressedBefore)
  if (here === 0) return pressedBefore === 0 ? 'webs never pressed before' : `pressed ${before}`
  const uneven = pressedHere.left === pressedHere.right ? times(here) : `left ${pressedHere.left}, right ${pressedHere.right}`
  return `pressed ${before}, and here ${uneven}`
}

function times(count: number): string {
  if (count === 1) return 'once'
  return count === 2 ? 'twice' : `${count} times`
}

/** One line of what matters: whose, what, hours, why, and how often it was pressed. */
export function JobLead({ job }: { job: Job }) {
  return (
    <>
      {job.customer !== undefined && (
        <>
          <Link to={`/customers/${job.customer.id}`}>{job.customer.name}</Link> ·{' '}
        </>
      )}
      {KIND_WORDS[job.kind]} · {hoursWords(job.hours, job.hoursHow)} · {WHY_WORDS[job.whyNow]} · {pressedWords(job.crank)}
      {job.crank.welded && ' · pin welded'}
      {job.crank.engineNumber !== undefined && ` · ${job.crank.engineNumber}`}
      {job.crank.earlier.length > 0 && (
        <>
          {' '}
          · here before as{' '}
          {job.crank.earlier.map((one, place) => (
            <span key={one.id}>
              {place > 0 && ', '}
              <Link to={`/jobs/${one.id}`}>{one.tag}</Link>
            </span>
          ))}
        </>
      )}
      {job.comebackOf !== undefined && (
        <>
          {' '}
          · came back after <Link to={`/jobs/${job.comebackOf.id}`}>{job.comebackOf.tag}</Link>
          {job.comebackWhy !== undefined && `: ${job.comebackWhy}`}
        </>
      )}
    </>
  )
}

/** What is promised, and whether it is late. */
export function JobPromise({ job, today }: { job: Job; today: string }) {
  const isOver = isEnd(job.state) || job.state === 'gone'
  return (
    <>
      {job.promisedOn === undefined ? (
        <>Nothing promised yet</>
      ) : (
        <>
          Promised <b>{day(job.promisedOn, today)}</b>
        </>
      )}
      {job.late && (
        <>
          <br />
          <Over>{lateWords(job)}</Over>
        </>
      )}
      {!isOver && job.wantedOn !== undefined && (
        <>
          <br />
          <small>They want it by {day(job.wantedOn, today)}</small>
        </>
      )}
    </>
  )
}

function datesOf(job: Job, here: Here): Partial<Record<Step, string>> {
  const now = Date.now()
  const today = dateIn(here.zone, now)
  const said = job.steps.flatMap((reached) => {
    if (isEnd(reached.step)) return []
    const date = dateIn(here.zone, reached.at)
    return [[reached.step, date === today ? dayAndTime(reached.at, here.zone, now) : day(date, today)] as const]
  })
  return Object.fromEntries(said)
}

/** How far the job is, as the crank itself. */
export function JobShaftOf({ job, today }: { job: Job; today: string }) {
  const here = useHere()
  const steps = job.steps.map((reached) => reached.step).filter((step): step is Step => !isEnd(step))
  const reached = steps.at(-1)
  return (
    <>
      <JobShaft
        kind={job.kind}
        done={job.state}
        {...(reached === undefined ? {} : { reached })}
        waiting={waitsShort(job.waiting, today)}
        dates={datesOf(job, here)}
        size="big"
      />
      {isEnd(job.state) && <p className="soft">This job ended: {doneWord(job.state)}.</p>}
    </>
  )
}
