import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import type { Gate } from '#contract/steps.ts'
import { actWord, isEnd, type Step } from '#core/steps.ts'
import { useStep } from '#web/features/jobs/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { PickMany } from '#web/ui/pick.tsx'

type MissingThings = Gate['missing']

/** One code may be missing at several joints. */
function keyOf({ code, joint }: MissingThings[number]): string {
  return joint === undefined ? code : `${code}-${joint}`
}

/** The owner's word that a gate may be passed with something missing: a reason for each thing, printed on the certificate. */
export function JobPasses({ job, next, missing }: { job: Job; next: Step; missing: MissingThings }) {
  if (missing.some((one) => one.pass === 'never')) {
    return <p className="soft">What nobody can let pass stands in the way, so this step stays shut.</p>
  }
  return <Fold open="Let it pass, with a reason">{(shut) => <PassForm job={job} next={next} missing={missing} onShut={shut} />}</Fold>
}

function PassForm({ job, next, missing, onShut }: { job: Job; next: Step; missing: MissingThings; onShut(): void }) {
  const step = useStep(job.id)
  const [reasons, setReasons] = useState<Record<string, string>>({})
  const [measuredBy, setMeasuredBy] = useState('')
  const [told, setTold] = useState(false)
  const [attempt, setAttempt] = useState(0)
  const lacking = attempt === 0 ? [] : missing.filter((one) => (reasons[keyOf(one)] ?? '').trim() === '')
  const send = () => {
    setAttempt(attempt + 1)
    if (missing.some((one) => (reasons[keyOf(one)] ?? '').trim() === '')) return
    const toldAt = told ? new Date().toISOString() : undefined
    step.mutate({
      to: next,
      passes: missing.map((one) => ({
        code: one.code,
        ...(one.joint === undefined ? {} : { joint: one.joint }),
        reason: (reasons[keyOf(one)] ?? '').trim(),
        ...(measuredBy.trim() === '' ? {} : { measuredBy: measuredBy.trim() }),
        ...(toldAt === undefined ? {} : { customerToldAt: toldAt }),
      })),
    })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Let it pass, with a reason">
      {(lacking.length > 0 || step.isError) && (
        <ProblemSummary
          title="It is not let pass."
          attempt={attempt}
          faults={lacking.map((one) => ({ name: `reason-${keyOf(one)}`, text: `Why may this pass: ${one.detail}` }))}
        >
          {step.isError && <p>{inWords(step.error)}</p>}
        </ProblemSummary>
      )}
      <p>Every reason prints on the certificate, with your name and the day.</p>
      {missing.map((one) => (
        <AreaField
          key={keyOf(one)}
          label={one.detail}
          hint="Why may it pass?"
          name={`reason-${keyOf(one)}`}
          rows={2}
          maxLength={400}
          value={reasons[keyOf(one)] ?? ''}
          error={lacking.includes(one) ? 'Write the reason in a few words.' : undefined}
          onChange={(event) => setReasons({ ...reasons, [keyOf(one)]: event.target.value })}
        />
      ))}
      <TextField
        label="Measured by, where it was measured"
        maxLength={200}
        value={measuredBy}
        onChange={(event) => setMeasuredBy(event.target.value)}
      />
      <PickMany
        label="The customer"
        options={[{ value: 'told', label: 'has been told' }]}
        value={told ? ['told'] : []}
        onChange={(now) => setTold(now.includes('told'))}
      />
      <Buttons>
        <Button type="submit" busy={step.isPending}>
          Let it pass{isEnd(job.state) ? '' : `: ${actWord(job.kind, job.state)}`}
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
