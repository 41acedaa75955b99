import { jointWords } from '#core/crank-build.ts'
import '#web/features/pressings/pressings.css'
import { lookWords, type Pressing, peakWords } from '#web/features/pressings/press-words.ts'
import { useStrikePressing } from '#web/features/pressings/queries.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Reason } from '#web/ui/reason.tsx'

/** Every pressing of this job, newest first; struck-out ones stay, struck through. */
export function PressList({ jobId, pressings }: { jobId: string; pressings: readonly Pressing[] }) {
  if (pressings.length === 0) return <p className="soft">Nothing is pressed yet.</p>
  return (
    <ol className="press-list" aria-label="Pressings">
      {[...pressings].reverse().map((one) => (
        <PressLine key={one.id} jobId={jobId} one={one} />
      ))}
    </ol>
  )
}

function PressLine({ jobId, one }: { jobId: string; one: Pressing }) {
  const { zone } = useHere()
  const strike = useStrikePressing(jobId)
  const now = Date.now()
  const look = lookWords(one)
  const said = (
    <>
      <b>
        {one.joint === undefined ? '' : `${jointWords(one.joint)}, `}
        {one.side} web {one.direction}
      </b>
      : {peakWords(one)}
      {look !== '' && ` · ${look}`}
    </>
  )
  return (
    <li>
      <p className="soft">
        {dayAndTime(one.occurredAt, zone, now)} · {one.by}
      </p>
      {one.struck === undefined ? (
        <>
          <p>{said}</p>
          <Reason
            open="Strike it out"
            label="Why is it struck out?"
            confirm="Strike it out"
            most={300}
            busy={strike.isPending}
            error={strike.isError ? inWords(strike.error) : undefined}
            onConfirm={(because) => strike.mutate({ pressingId: one.id, strike: { because } })}
          >
            <p className="soft">It stays in the book, struck out.</p>
          </Reason>
        </>
      ) : (
        <>
          <p>
            <s>{said}</s>
          </p>
          <p>
            Struck out by {one.struck.by}, {dayAndTime(one.struck.at, zone, now)}: {one.struck.because}
          </p>
        </>
      )}
    </li>
  )
}
