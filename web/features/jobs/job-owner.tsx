import { useState } from 'react'
import { Link } from 'react-router'
import type { Job } from '#contract/jobs.ts'
import { doneWord, ENDS, type End, isEnd, PATHS, type Step } from '#core/steps.ts'
import { useEnd, useStepBack } from '#web/features/jobs/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

const END_WORDS: Readonly<Record<End, string>> = { 'given-back': 'given back unbuilt', scrapped: 'scrapped' }

/** What only the owner does: take a step back, or end the job another way; each with a reason that stays in the history. */
export function JobOwner({ job }: { job: Job }) {
  const earlier = stepsBefore(job)
  const mayEnd = !isEnd(job.state) && job.state !== 'gone'
  return (
    <section aria-label="The owner’s word">
      <h2>The owner’s word</h2>
      <div className="job-owner">
        {earlier.length > 0 && <Fold open="Take a step back">{(shut) => <BackForm job={job} steps={earlier} onShut={shut} />}</Fold>}
        {mayEnd && <Fold open="Give it back or scrap it">{(shut) => <EndForm job={job} onShut={shut} />}</Fold>}
      </div>
      <p>
        <Link className="stand-alone" to={`/office/audit?thing=job&id=${job.id}`}>
          Who changed what on it
        </Link>
      </p>
    </section>
  )
}

/** Steps it can go back to: those it has passed; from another end also the one where it stood. */
function stepsBefore(job: Job): Step[] {
  const path = PATHS[job.kind]
  const reached = job.steps.map((one) => one.step).filter((step): step is Step => !isEnd(step))
  return path.filter((step) => reached.includes(step) && step !== job.state)
}

function BackForm({ job, steps, onShut }: { job: Job; steps: readonly Step[]; onShut(): void }) {
  const back = useStepBack(job.id)
  const [to, setTo] = useState<Step | undefined>(steps.at(-1))
  const [reason, setReason] = useState('')
  const [tried, setTried] = useState(false)
  const send = () => {
    setTried(true)
    if (to === undefined || reason.trim() === '') return
    back.mutate({ to, reason: reason.trim() }, { onSuccess: onShut })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Take a step back">
      {back.isError && (
        <ProblemSummary title="It stands where it stood.">
          <p>{inWords(back.error)}</p>
        </ProblemSummary>
      )}
      <Pick label="Back to" options={steps.map((step) => ({ value: step, label: doneWord(step) }))} value={to} onChange={setTo} />
      <ReasonField value={reason} tried={tried} label="Why does it go back?" onChange={setReason} />
      <WhatStands job={job} />
      <Buttons>
        <Button type="submit" busy={back.isPending}>
          Take it back{to === undefined ? '' : ` to ${doneWord(to)}`}
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}

/** What a step back does not undo. */
function WhatStands({ job }: { job: Job }) {
  const isSigned = job.steps.some((one) => one.step === 'signed')
  if (!isSigned) return <p className="soft">What was read and written stays; the steps after it have to be reported again.</p>
  return (
    <p className="soft">
      The sheet stands as it is, also for whoever checks its number. With new readings make a corrected one, or make it void,{' '}
      <Link to={`/bench/${job.id}/sign`}>where it was signed</Link>.
    </p>
  )
}

function EndForm({ job, onShut }: { job: Job; onShut(): void }) {
  const ending = useEnd(job.id)
  const [end, setEnd] = useState<End>('given-back')
  const [reason, setReason] = useState('')
  const [tried, setTried] = useState(false)
  const send = () => {
    setTried(true)
    if (reason.trim() !== '') ending.mutate({ end, reason: reason.trim() }, { onSuccess: onShut })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Give it back or scrap it">
      {ending.isError && (
        <ProblemSummary title="The job goes on.">
          <p>{inWords(ending.error)}</p>
        </ProblemSummary>
      )}
      <Pick label="How it ends" options={ENDS.map((value) => ({ value, label: END_WORDS[value] }))} value={end} onChange={setEnd} />
      <ReasonField value={reason} tried={tried} label="Why?" onChange={setReason} />
      <Buttons>
        <Button type="submit" busy={ending.isPending}>
          It is {END_WORDS[end]}
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}

function ReasonField({ value, tried, label, onChange }: { value: string; tried: boolean; label: string; onChange(typed: string): void }) {
  return (
    <AreaField
      label={label}
      rows={2}
      maxLength={400}
      value={value}
      error={tried && value.trim() === '' ? 'Write the reason in a few words.' : undefined}
      onChange={(event) => onChange(event.target.value)}
    />
  )
}
