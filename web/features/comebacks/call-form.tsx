import { useState } from 'react'
import { useForm } from 'react-hook-form'
import { HeardFields } from '#web/features/comebacks/heard-fields.tsx'
import { faultList, type HeardForm, readHeard } from '#web/features/comebacks/heard-form.ts'
import { useCall } from '#web/features/comebacks/queries.ts'
import { newId } from '#web/lib/id.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

const NAMES = ['runs', 'day', 'hours', 'hoursHow', 'says']
const RUNS = [
  { value: 'yes', label: 'it runs well' },
  { value: 'no', label: 'something is wrong' },
] as const

export interface CallFormProps {
  jobId: string
  today: string
  /** It is written down. Where something is wrong, `wrong` carries what was typed, for the report. */
  onMade(wrong: HeardForm | undefined): void
  onShut(): void
}

/** What they say on the phone, some time after it went home. Those that are well count as much as the others. */
export function CallForm({ jobId, today, onMade, onShut }: CallFormProps) {
  const call = useCall(jobId)
  const [id] = useState(newId)
  const [runs, setRuns] = useState<'yes' | 'no' | undefined>(undefined)
  const [attempt, setAttempt] = useState(0)
  const form = useForm<HeardForm>({ defaultValues: { day: today, hours: '', hoursHow: 'unknown', says: '' } })
  const { errors } = form.formState
  const send = () => {
    if (call.isPending) return
    setAttempt(attempt + 1)
    form.clearErrors()
    const faults: Partial<Record<string, string>> = {}
    const values = form.getValues()
    const heard = readHeard(values, faults)
    if (runs === undefined) faults.runs = 'Does it run well?'
    for (const [name, message] of Object.entries(faults)) form.setError(name, { type: 'typed', message: message ?? '' })
    if (runs === undefined || Object.keys(faults).length > 0) return
    const says = values.says.trim()
    call.mutate(
      { id, ...heard, runs: runs === 'yes', ...(says === '' ? {} : { says }) },
      {
        onSuccess: () => onMade(runs === 'yes' ? undefined : values),
        onError: (error) => putOnForm(error, NAMES, form.setError),
      },
    )
  }
  const listed = faultList(errors, NAMES)
  const runsFault = errors.runs?.message
  return (
    <Form enter="next" onSend={send} aria-label="They say how it runs">
      {(listed.length > 0 || errors.root !== undefined) && (
        <ProblemSummary title="The call is not written down yet." faults={listed} attempt={attempt}>
          {errors.root !== undefined && <p>{errors.root.message}</p>}
        </ProblemSummary>
      )}
      <Pick
        label="Does it run?"
        name="runs"
        options={RUNS}
        value={runs}
        error={typeof runsFault === 'string' ? runsFault : undefined}
        onChange={setRuns}
      />
      <HeardFields form={form} today={today} saysLabel="What they say" saysMost={600} />
      <Buttons>
        <Button type="submit" busy={call.isPending}>
          Write it down
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
