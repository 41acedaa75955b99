import '#web/features/comebacks/comebacks.css'
import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import type { ComebackRow, SinceHome } from '#contract/comebacks.ts'
import { daysBetween } from '#core/calendar.ts'
import { CallOrReport } from '#web/features/comebacks/call-or-report.tsx'
import { sinceHomeQuery, useStrikeCall } from '#web/features/comebacks/queries.ts'
import { ReportForm } from '#web/features/comebacks/report-form.tsx'
import { callWords, cameWords, decidedWords, foundWords } from '#web/features/comebacks/words.ts'
import { counted, day } from '#web/lib/format.ts'
import { seesCustomers, useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Buttons } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Reason } from '#web/ui/reason.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** What was heard of a crank since it went home, and the two acts at the counter: it came back; they say how it runs. */
export function SinceHomeSection({ jobId }: { jobId: string }) {
  const here = useHere()
  const since = useQuery(sinceHomeQuery(jobId))
  if (since.isPending) return <Loading what="what was heard of it" />
  if (since.isError) return <Failed what="What was heard of it" error={since.error} onAgain={() => void since.refetch()} />
  const { goneOn, report, hereFor, calls, today } = since.data
  if (goneOn === undefined && report === undefined && hereFor === undefined && calls.length === 0) return null
  return (
    <section className="since-home" aria-label="Since it went home">
      {hereFor !== undefined && (
        <>
          <h2>Here because it came back</h2>
          <ReportLines report={hereFor} today={today} />
        </>
      )}
      {(goneOn !== undefined || report !== undefined || calls.length > 0) && <h2>Since it went home</h2>}
      {goneOn !== undefined && (
        <p>
          Went home {day(goneOn, today)}, {counted(daysBetween(goneOn, today), 'day')} ago.{' '}
          {report === undefined && calls.every((call) => call.struck !== undefined) && 'Nothing was heard of it since.'}
          {since.data.callDue && ' It is to be rung now.'}
        </p>
      )}
      {report !== undefined && <ReportLines report={report} today={today} />}
      <Calls jobId={jobId} calls={calls} today={today} mayStrike={seesCustomers(here.role)} />
      {goneOn !== undefined && seesCustomers(here.role) && <Acts jobId={jobId} since={since.data} />}
    </section>
  )
}

function Acts({ jobId, since }: { jobId: string; since: SinceHome }) {
  const { report, today } = since
  return (
    <Buttons>
      <Fold open="They say how it runs">
        {(shut) => <CallOrReport jobId={jobId} today={today} reported={report !== undefined} onDone={shut} onShut={shut} />}
      </Fold>
      {report === undefined && (
        <Fold open="It came back">{(shut) => <ReportForm jobId={jobId} today={today} onMade={shut} onShut={shut} />}</Fold>
      )}
    </Buttons>
  )
}

function ReportLines({ report, today }: { report: ComebackRow; today: string }) {
  const found = foundWords(report)
  const decided = decidedWords(report)
  return (
    <>
      <p>
        <Link className="stand-alone" to={`/office/comebacks/${report.id}`}>
          {report.how === 'returned' || report.newJob !== undefined ? 'It came back' : 'We were told that it failed'}
        </Link>
        , {cameWords(report, today)}
        {report.says !== undefined && `: “${report.says}”`}
        {report.newJob !== undefined && (
          <>
            {' '}
            · here as <Link to={`/jobs/${report.newJob.id}`}>{report.newJob.tag}</Link>
          </>
        )}
      </p>
      <p>
        {found === '' ? <span className="soft">Nobody has looked at it yet.</span> : `Found: ${found}.`}{' '}
        {decided === undefined ? <span className="soft">The cause is open.</span> : `Decided: ${decided}.`}{' '}
        {!report.counts && <span className="soft">{report.countsWhy}</span>}
      </p>
    </>
  )
}

interface CallsProps {
  jobId: string
  calls: SinceHome['calls']
  today: string
  mayStrike: boolean
}

function Calls({ jobId, calls, today, mayStrike }: CallsProps) {
  if (calls.length === 0) return null
  return (
    <ul className="plain-list" aria-label="Calls">
      {calls.map((call) => (
        <li key={call.id}>
          <span>
            {call.struck === undefined ? (
              callWords(call, today)
            ) : (
              <span className="soft">
                <s>{callWords(call, today)}</s> struck out: {call.struck.because}
              </span>
            )}{' '}
            <small>· {call.by}</small>
          </span>
          {mayStrike && call.struck === undefined && <StrikeCall jobId={jobId} callId={call.id} />}
        </li>
      ))}
    </ul>
  )
}

function StrikeCall({ jobId, callId }: { jobId: string; callId: string }) {
  const strike = useStrikeCall(jobId, callId)
  return (
    <Reason
      open="Strike it out"
      label="Why is this call struck out?"
      confirm="Strike it out"
      most={400}
      busy={strike.isPending}
      error={strike.isError ? inWords(strike.error) : undefined}
      onConfirm={(reason) => strike.mutate({ reason })}
    >
      <p>It stays to be read and counts no more.</p>
    </Reason>
  )
}
