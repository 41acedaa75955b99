import '#web/features/hours/hours.css'
import { useQuery } from '@tanstack/react-query'
import type { ClockEntry } from '#contract/hours.ts'
import { CorrectHours } from '#web/features/hours/correct-hours.tsx'
import { jobHoursQuery } from '#web/features/hours/queries.ts'
import { dateIn, day, dayAndTime, hours, timeOfDay } from '#web/lib/format.ts'
import { type Here, useHere } from '#web/lib/here.ts'
import { Failed, Loading } from '#web/ui/states.tsx'

/** Every stretch of bench clock on this crank, what it adds up to by work, and what was put right. */
export function JobHours({ jobId }: { jobId: string }) {
  const here = useHere()
  const answer = useQuery(jobHoursQuery(jobId))
  if (answer.isPending) return <Loading what="the hours" />
  if (answer.isError) return <Failed what="The hours" error={answer.error} onAgain={() => void answer.refetch()} />
  const { entries, totalHours, byWork } = answer.data
  if (entries.length === 0) return <p className="soft">No clock has run on this crank yet. Start it in the bar above.</p>
  return (
    <>
      <p className="hours-total">
        <span className="fig">{hours(totalHours, 2)}</span> in all, after corrections
      </p>
      <dl className="hours-by">
        {byWork.map((one) => (
          <div key={one.work}>
            <dt>{one.work}</dt>
            <dd className="fig">{hours(one.hours, 2)}</dd>
          </div>
        ))}
      </dl>
      <ol className="hours-list" aria-label="Stretches of bench clock">
        {[...entries].reverse().map((entry) => (
          <Stretch key={`${entry.id} ${entry.version}`} entry={entry} here={here} />
        ))}
      </ol>
    </>
  )
}

function Stretch({ entry, here }: { entry: ClockEntry; here: Here }) {
  const { zone } = here
  const today = dateIn(zone, Date.now())
  const mayCorrect = entry.stoppedAt !== undefined && (here.role === 'owner' || entry.personId === here.personId)
  return (
    <li>
      <p>
        <b>{day(dateIn(zone, entry.startedAt), today)}</b>{' '}
        <span className="fig">
          {timeOfDay(entry.startedAt, zone)} to {entry.stoppedAt === undefined ? 'now' : timeOfDay(entry.stoppedAt, zone)}
        </span>{' '}
        · {entry.person} · {entry.work}
        {entry.hours !== undefined && ` · ${hours(entry.hours, 2)}`}
        {entry.stoppedAt === undefined && ' · running'}
      </p>
      {entry.stoppedHow === 'closing-time' && entry.corrected === undefined && (
        <p className="soft">Stopped at closing time; nobody has said yet when it really stopped.</p>
      )}
      {entry.corrected !== undefined && (
        <p className="soft">
          Put right by {entry.corrected.by}, {dayAndTime(entry.corrected.at, zone, Date.now())}: {entry.corrected.why} · was{' '}
          {timeOfDay(entry.corrected.wasStartedAt, zone)} to{' '}
          {entry.corrected.wasStoppedAt === undefined ? 'running' : timeOfDay(entry.corrected.wasStoppedAt, zone)}
        </p>
      )}
      {mayCorrect && <CorrectHours entry={entry} />}
    </li>
  )
}
