import { useState } from 'react'
import { type Job, YES_HOW } from '#contract/jobs.ts'
import { useTold } from '#web/features/jobs/queries.ts'
import { tellSentence } from '#web/features/jobs/tell.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

type How = (typeof YES_HOW)[number]

const USUAL: Readonly<Record<NonNullable<Job['customer']>['hearBy'], How>> = {
  phone: 'by phone',
  mail: 'by mail',
  text: 'by text',
  post: 'by post',
}

/** What to tell the customer in one sentence, suggested from where the job stands, and what they were told last. */
export function JobTold({ job, today }: { job: Job; today: string }) {
  const here = useHere()
  const sentence = tellSentence(job, here, today)
  return (
    <div className="job-told">
      <Fold open={`Tell: “${sentence}”`}>{(shut) => <TellForm job={job} sentence={sentence} onShut={shut} />}</Fold>
      <small>
        {job.lastTold === undefined
          ? 'Not told anything yet.'
          : `Last told ${dayAndTime(job.lastTold.at, here.zone, Date.now())}, ${job.lastTold.how}: “${job.lastTold.says}”`}
      </small>
    </div>
  )
}

function TellForm({ job, sentence, onShut }: { job: Job; sentence: string; onShut(): void }) {
  const told = useTold(job.id)
  const [says, setSays] = useState(sentence)
  const [how, setHow] = useState<How>(USUAL[job.customer?.hearBy ?? 'phone'])
  const [tried, setTried] = useState(false)
  const send = () => {
    setTried(true)
    if (says.trim() === '') return
    told.mutate({ says: says.trim(), how }, { onSuccess: onShut })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Tell the customer">
      {told.isError && (
        <ProblemSummary title="It is not written down.">
          <p>{inWords(told.error)}</p>
        </ProblemSummary>
      )}
      <AreaField
        label="What they are told"
        maxLength={600}
        value={says}
        error={tried && says.trim() === '' ? 'What were they told?' : undefined}
        onChange={(event) => setSays(event.target.value)}
      />
      <Pick label="How" options={YES_HOW.map((value) => ({ value, label: value }))} value={how} onChange={setHow} />
      <p>
        <ReachLinks job={job} says={says} />
      </p>
      <Buttons>
        <Button type="submit" busy={told.isPending}>
          They are told
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}

/** The sentence in the hand's own phone or mail; the book sends nothing by itself. */
function ReachLinks({ job, says }: { job: Job; says: string }) {
  const { phone, mail } = job.customer ?? {}
  const body = encodeURIComponent(says)
  return (
    <>
      {phone !== undefined && (
        <>
          <a href={`tel:${phone.replace(/[^\d+]/g, '')}`}>Ring {phone}</a> ·{' '}
          <a href={`sms:${phone.replace(/[^\d+]/g, '')}?body=${body}`}>text it</a>
        </>
      )}
      {phone !== undefined && mail !== undefined && ' · '}
      {mail !== undefined && (
        <a href={`mailto:${mail}?subject=${encodeURIComponent(`Your crank ${job.tag}`)}&body=${body}`}>Mail it to {mail}</a>
      )}
    </>
  )
}
