import { useState } from 'react'
import type { ClockEntry } from '#contract/hours.ts'
import { useClockCorrection } from '#web/features/hours/queries.ts'
import { instantAt, readTime } from '#web/features/hours/shop-time.ts'
import { dateIn, timeOfDay } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

/** Puts a stretch right, with a reason; what the clock said stays beside it. */
export function CorrectHours({ entry }: { entry: ClockEntry }) {
  return <Fold open="Put it right">{(shut) => <CorrectForm entry={entry} onShut={shut} />}</Fold>
}

type Name = 'started' | 'stopped' | 'why'

function CorrectForm({ entry, onShut }: { entry: ClockEntry; onShut(): void }) {
  const { zone } = useHere()
  const correct = useClockCorrection()
  const [given, setGiven] = useState({
    started: timeOfDay(entry.startedAt, zone),
    stopped: timeOfDay(entry.stoppedAt ?? entry.startedAt, zone),
    why: '',
  })
  const [faults, setFaults] = useState<{ name: Name; text: string }[]>([])
  const [attempt, setAttempt] = useState(0)
  const faultOf = (name: Name) => faults.find((one) => one.name === name)?.text
  const send = () => {
    const [started, stopped] = [readTime(given.started), readTime(given.stopped)]
    const found: { name: Name; text: string }[] = [
      ...(started === undefined ? [{ name: 'started' as const, text: 'A time, such as 08:40.' }] : []),
      ...(stopped === undefined ? [{ name: 'stopped' as const, text: 'A time, such as 17:40.' }] : []),
      ...(given.why.trim() === '' ? [{ name: 'why' as const, text: 'Why it is put right, in a few words.' }] : []),
    ]
    setAttempt(attempt + 1)
    setFaults(found)
    if (started === undefined || stopped === undefined || found.length > 0) return
    const date = dateIn(zone, entry.startedAt)
    correct
      .mutateAsync({
        id: entry.id,
        version: entry.version,
        correction: { startedAt: instantAt(zone, date, started), stoppedAt: instantAt(zone, date, stopped), why: given.why.trim() },
      })
      .then(onShut, () => undefined)
  }
  return (
    <Form enter="next" onSend={send} aria-label="Put it right">
      {(faults.length > 0 || correct.isError) && (
        <ProblemSummary title="It is not put right." attempt={attempt} faults={faults}>
          {correct.isError && <p>{inWords(correct.error)}</p>}
        </ProblemSummary>
      )}
      <div className="closing-fields">
        <TextField
          label="Started at"
          name="started"
          inputMode="numeric"
          autoComplete="off"
          value={given.started}
          error={faultOf('started')}
          onChange={(event) => setGiven({ ...given, started: event.target.value })}
        />
        <TextField
          label="Stopped at"
          name="stopped"
          inputMode="numeric"
          autoComplete="off"
          value={given.stopped}
          error={faultOf('stopped')}
          onChange={(event) => setGiven({ ...given, stopped: event.target.value })}
        />
      </div>
      <AreaField
        label="Why it is put right"
        name="why"
        rows={2}
        maxLength={400}
        value={given.why}
        error={faultOf('why')}
        onChange={(event) => setGiven({ ...given, why: event.target.value })}
      />
      <Buttons>
        <Button type="submit" busy={correct.isPending}>
          Put it right
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
