import '#web/features/hours/hours.css'
import { useState } from 'react'
import type { ClockEntry } from '#contract/hours.ts'
import { useClockCorrection } from '#web/features/hours/queries.ts'
import { instantAt, readTime } from '#web/features/hours/shop-time.ts'
import { dateIn, day, timeOfDay } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { Known, ProblemSummary } from '#web/ui/notice.tsx'

/** Clocks that nobody stopped. Their person is asked, so that the hours of a crank are true. */
export function ClosingQuestions({ entries }: { entries: readonly ClockEntry[] }) {
  return entries.map((entry) => <ClosingQuestion key={entry.id} entry={entry} />)
}

/** `Yesterday 18:00` or `Mon 23 Nov, 18:00` */
export function closingWords(stoppedAt: string, zone: string, nowMs: number): string {
  const date = dateIn(zone, stoppedAt)
  const time = timeOfDay(stoppedAt, zone)
  if (date === dateIn(zone, nowMs)) return `Today ${time}`
  const isYesterday = date === dateIn(zone, nowMs - 24 * 3_600_000)
  return isYesterday ? `Yesterday ${time}` : `${day(date, dateIn(zone, nowMs))}, ${time}`
}

function ClosingQuestion({ entry }: { entry: ClockEntry }) {
  const { zone } = useHere()
  const correct = useClockCorrection()
  const stoppedAt = entry.stoppedAt ?? entry.startedAt
  const closing = timeOfDay(stoppedAt, zone)
  const [time, setTime] = useState('')
  const [why, setWhy] = useState('forgot to stop it')
  const [faults, setFaults] = useState<{ name: string; text: string }[]>([])
  const [attempt, setAttempt] = useState(0)

  const send = (stopped: string, because: string) =>
    correct.mutate({ id: entry.id, version: entry.version, correction: { startedAt: entry.startedAt, stoppedAt: stopped, why: because } })
  const take = () => {
    const read = readTime(time)
    const found = [
      ...(read === undefined ? [{ name: `stopped-${entry.id}`, text: 'A time, such as 17:40.' }] : []),
      ...(why.trim() === '' ? [{ name: `why-${entry.id}`, text: 'Why, in a few words.' }] : []),
    ]
    setAttempt(attempt + 1)
    setFaults(found)
    if (read !== undefined && found.length === 0) send(instantAt(zone, dateIn(zone, entry.startedAt), read), why.trim())
  }
  const faultOf = (name: string) => faults.find((one) => one.name === name)?.text
  return (
    <Known>
      <p>
        <b>
          {closingWords(stoppedAt, zone, Date.now())} the clock on {entry.tag} was stopped at closing time. When did you stop?
        </b>{' '}
        Started {timeOfDay(entry.startedAt, zone)}, {entry.work}.
      </p>
      <Form enter="sends" onSend={take} aria-label={`When did you stop on ${entry.tag}?`}>
        {(faults.length > 0 || correct.isError) && (
          <ProblemSummary title="The clock is not put right yet." attempt={attempt} faults={faults}>
            {correct.isError && <p>{inWords(correct.error)}</p>}
          </ProblemSummary>
        )}
        <div className="closing-fields">
          <TextField
            label="I stopped at, such as 17:40"
            name={`stopped-${entry.id}`}
            inputMode="numeric"
            autoComplete="off"
            value={time}
            error={faultOf(`stopped-${entry.id}`)}
            onChange={(event) => setTime(event.target.value)}
          />
          <TextField
            label="Why the clock ran on"
            name={`why-${entry.id}`}
            maxLength={400}
            value={why}
            error={faultOf(`why-${entry.id}`)}
            onChange={(event) => setWhy(event.target.value)}
          />
        </div>
        <Buttons>
          <Button type="submit" busy={correct.isPending}>
            Put it right
          </Button>
          <Button busy={correct.isPending} onClick={() => send(stoppedAt, `worked until ${closing}`)}>
            {closing} is right
          </Button>
        </Buttons>
      </Form>
    </Known>
  )
}
