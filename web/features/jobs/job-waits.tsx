import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { WAITING_FOR, type WaitingFor } from '#core/steps.ts'
import { useWait, useWaitEnd } from '#web/features/jobs/queries.ts'
import { waitWords } from '#web/features/jobs/words.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, type ButtonKind, Buttons } from '#web/ui/button.tsx'
import { DateField, TextField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

const WHAT_WORDS: Readonly<Record<WaitingFor, string>> = { kit: 'kit', yes: 'a yes', outside: 'work outside' }
const OVER_WORDS: Readonly<Record<Exclude<WaitingFor, 'kit'>, string>> = {
  yes: 'It no longer waits for a yes',
  outside: 'It is back from outside',
}

/** Ends the wait for the kit; the lot is asked now, while the bag lies here. */
export function KitIsIn({ job, kind = 'quiet' }: { job: Job; kind?: ButtonKind }) {
  return (
    <Fold open="Kit is in" kind={kind}>
      {(shut) => <KitForm job={job} onShut={shut} />}
    </Fold>
  )
}

function KitForm({ job, onShut }: { job: Job; onShut(): void }) {
  const end = useWaitEnd(job.id)
  const [lot, setLot] = useState('')
  return (
    <Form
      enter="sends"
      aria-label="Kit is in"
      onSend={() => end.mutate({ what: 'kit', ...(lot.trim() === '' ? {} : { lot: lot.trim() }) }, { onSuccess: onShut })}
    >
      {end.isError && (
        <ProblemSummary title="It is not written down.">
          <p>{inWords(end.error)}</p>
        </ProblemSummary>
      )}
      <TextField
        label="Lot"
        hint="from the rod or the bag; without it a bad lot cannot be traced later"
        maxLength={60}
        autoCapitalize="characters"
        value={lot}
        onChange={(event) => setLot(event.target.value)}
      />
      <Buttons>
        <Button type="submit" busy={end.isPending}>
          Kit is in, on the shelf
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}

/** What the job waits for, since when, and a way to start or end a wait. */
export function JobWaits({ job, today }: { job: Job; today: string }) {
  const here = useHere()
  const end = useWaitEnd(job.id)
  const open = WAITING_FOR.filter((what) => !job.waiting.some((one) => one.what === what))
  return (
    <section aria-label="Waiting">
      <h2>Waiting</h2>
      {job.waiting.length === 0 && <p className="soft">It waits for nothing.</p>}
      {end.isError && (
        <ProblemSummary title="It still waits.">
          <p>{inWords(end.error)}</p>
        </ProblemSummary>
      )}
      {job.waiting.length > 0 && (
        <ul className="plain-list">
          {job.waiting.map((one) => (
            <li key={one.what}>
              {waitWords(one, here, today)}
              {/* That the kit is in is the next act of the page, and stands at its head. */}
              {one.what !== 'kit' && (
                <Button busy={end.isPending} onClick={() => end.mutate({ what: one.what })}>
                  {OVER_WORDS[one.what]}
                </Button>
              )}
            </li>
          ))}
        </ul>
      )}
      {open.length > 0 && <Fold open="It waits for something">{(shut) => <WaitForm job={job} open={open} onShut={shut} />}</Fold>}
    </section>
  )
}

function WaitForm({ job, open, onShut }: { job: Job; open: readonly WaitingFor[]; onShut(): void }) {
  const here = useHere()
  const today = dateIn(here.zone, Date.now())
  const wait = useWait(job.id)
  const [what, setWhat] = useState<WaitingFor | undefined>(open[0])
  const [note, setNote] = useState('')
  const [dueOn, setDueOn] = useState('')
  const send = () => {
    if (what === undefined) return
    wait.mutate({ what, ...(note.trim() === '' ? {} : { note: note.trim() }), ...(dueOn === '' ? {} : { dueOn }) }, { onSuccess: onShut })
  }
  return (
    <Form enter="next" onSend={send} aria-label="It waits for something">
      {wait.isError && (
        <ProblemSummary title="It is not written down.">
          <p>{inWords(wait.error)}</p>
        </ProblemSummary>
      )}
      <Pick label="It waits for" options={open.map((value) => ({ value, label: WHAT_WORDS[value] }))} value={what} onChange={setWhat} />
      <TextField label="What exactly" maxLength={200} value={note} onChange={(event) => setNote(event.target.value)} />
      <DateField
        label="Due on"
        readBack={dueOn === '' ? '\u00a0' : day(dueOn, today)}
        value={dueOn}
        onChange={(event) => setDueOn(event.target.value)}
      />
      <Buttons>
        <Button type="submit" busy={wait.isPending}>
          It waits
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
