import { useState } from 'react'
import { useForm } from 'react-hook-form'
import { Link } from 'react-router'
import type { Comeback } from '#contract/comebacks.ts'
import { CAUTIONS, RULES_FIRST } from '#core/cautions.ts'
import { ASK_FOR, COMEBACK_HOW, type ComebackHow, UNWASHED } from '#core/comeback.ts'
import { HeardFields } from '#web/features/comebacks/heard-fields.tsx'
import { faultList, type HeardForm, readHeard } from '#web/features/comebacks/heard-form.ts'
import { useReport } from '#web/features/comebacks/queries.ts'
import { CAME_WORDS } from '#web/features/comebacks/words.ts'
import { newId } from '#web/lib/id.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { Caution, Known, ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

const NAMES = ['how', 'day', 'hours', 'hoursHow', 'says', 'thought']

export interface ReportFormProps {
  jobId: string
  today: string
  /** What a call has told already. */
  given?: Partial<HeardForm>
  onMade(made: Comeback): void
  onShut(): void
}

/** A crank of ours came back, or is talked about as failed: what is said of it. Nothing is decided here. */
export function ReportForm({ jobId, today, given = {}, onMade, onShut }: ReportFormProps) {
  const report = useReport(jobId)
  const [id] = useState(newId)
  const [how, setHow] = useState<ComebackHow>('told')
  const [attempt, setAttempt] = useState(0)
  const form = useForm<HeardForm>({ defaultValues: { day: today, hours: '', hoursHow: 'unknown', says: '', thought: '', ...given } })
  const { errors } = form.formState
  const send = () => {
    if (report.isPending) return
    setAttempt(attempt + 1)
    form.clearErrors()
    const faults: Partial<Record<string, string>> = {}
    const values = form.getValues()
    const heard = readHeard(values, faults)
    if (values.says.trim() === '') faults.says = 'What do they say is wrong?'
    for (const [name, message] of Object.entries(faults)) form.setError(name, { type: 'typed', message: message ?? '' })
    if (Object.keys(faults).length > 0) return
    const thought = (values.thought ?? '').trim()
    const wanted = { id, how, ...heard, says: values.says.trim(), ...(thought === '' ? {} : { thought }) }
    report.mutate(wanted, { onSuccess: onMade, onError: (error) => putOnForm(error, NAMES, form.setError) })
  }
  const listed = faultList(errors, NAMES)
  return (
    <Form enter="next" onSend={send} aria-label="It came back">
      {(listed.length > 0 || errors.root !== undefined) && (
        <ProblemSummary title="The report is not written yet." faults={listed} attempt={attempt}>
          {errors.root !== undefined && <p>{errors.root.message}</p>}
        </ProblemSummary>
      )}
      <p className="soft">Only what is said. Who is to blame is decided after looking, never at the counter.</p>
      <Pick
        label="How do we know?"
        name="how"
        options={COMEBACK_HOW.map((value) => ({ value, label: CAME_WORDS[value] }))}
        value={how}
        onChange={setHow}
      />
      {how === 'returned' ? (
        <>
          <Known>
            <p>
              Does it lie here now? <Link to="/counter/book-in">Book it in</Link> and say there that it comes back: that writes this report
              and gives it a tag.
            </p>
          </Known>
          <Caution>
            {UNWASHED} {CAUTIONS.solvent} {RULES_FIRST}
          </Caution>
        </>
      ) : (
        <p>{ASK_FOR}</p>
      )}
      <HeardFields form={form} today={today} saysLabel="What they say is wrong" saysMost={1000} />
      <AreaField
        label="What you think of it"
        hint="Kept apart from what is found. May stay empty."
        rows={2}
        maxLength={1000}
        {...form.register('thought')}
      />
      <Buttons>
        <Button type="submit" busy={report.isPending}>
          Write the report
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
