import { useState } from 'react'
import { useForm } from 'react-hook-form'
import { Link } from 'react-router'
import type { Comeback } from '#contract/comebacks.ts'
import { EditRefused } from '#web/features/comebacks/edit-refused.tsx'
import { HeardFields } from '#web/features/comebacks/heard-fields.tsx'
import { faultList, type HeardForm, readHeard } from '#web/features/comebacks/heard-form.ts'
import { useStrikeComeback } from '#web/features/comebacks/queries.ts'
import { useComebackEdit } from '#web/features/comebacks/use-comeback-edit.ts'
import { cameWords } from '#web/features/comebacks/words.ts'
import { seesCustomers, useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Reason } from '#web/ui/reason.tsx'

/** What was reported: when, how, after how many hours, in their words; and whether it counts. */
export function Said({ report, today }: { report: Comeback; today: string }) {
  const { role } = useHere()
  const { customer, newJob, struck } = report
  const mayStrike = seesCustomers(role) && struck === undefined && (report.cause === undefined || role === 'owner')
  return (
    <section className="comeback-said" aria-label="What was reported">
      <p>
        {cameWords(report, today)}. <span className="soft">Written by {report.reportedBy}.</span>
      </p>
      {report.says !== undefined && <p className="comeback-words">“{report.says}”</p>}
      <p>
        {newJob === undefined ? (
          <span className="soft">The crank is not here.</span>
        ) : (
          <>
            Here as <Link to={role === 'bench' ? `/bench/${newJob.id}` : `/jobs/${newJob.id}`}>{newJob.tag}</Link>.
          </>
        )}{' '}
        {report.countsWhy}
      </p>
      {customer !== undefined && (
        <p>
          <Link to={`/customers/${customer.id}`}>{customer.name}</Link>
          {customer.phone !== undefined && (
            <>
              {' · '}
              <a href={`tel:${customer.phone.replace(/[^\d+]/g, '')}`}>{customer.phone}</a>
            </>
          )}
          {customer.mail !== undefined && (
            <>
              {' · '}
              <a href={`mailto:${customer.mail}`}>{customer.mail}</a>
            </>
          )}
        </p>
      )}
      {struck !== undefined && (
        <p>
          <b>Struck out</b> by {struck.by}: {struck.because}
        </p>
      )}
      {seesCustomers(role) && struck === undefined && (
        <Buttons>
          <Fold open="Correct what was reported">{(shut) => <CorrectForm report={report} today={today} onShut={shut} />}</Fold>
          {mayStrike && <StrikeReport report={report} />}
        </Buttons>
      )}
    </section>
  )
}

function StrikeReport({ report }: { report: Comeback }) {
  const strike = useStrikeComeback(report)
  return (
    <Reason
      open="Strike it out"
      label="Why is this report struck out?"
      confirm="Strike it out"
      most={400}
      busy={strike.isPending}
      error={strike.isError ? inWords(strike.error) : undefined}
      onConfirm={(reason) => strike.mutate({ reason })}
    >
      <p>It stays to be read and counts no more; another may be written.</p>
    </Reason>
  )
}

const NAMES = ['day', 'hours', 'hoursHow', 'says']

function CorrectForm({ report, today, onShut }: { report: Comeback; today: string; onShut(): void }) {
  const edit = useComebackEdit(report)
  const [attempt, setAttempt] = useState(0)
  const form = useForm<HeardForm>({
    defaultValues: {
      day: report.day,
      hours: report.hours === undefined ? '' : String(report.hours),
      hoursHow: report.hoursHow,
      says: report.says ?? '',
    },
  })
  const send = () => {
    setAttempt(attempt + 1)
    form.clearErrors()
    const faults: Partial<Record<string, string>> = {}
    const values = form.getValues()
    const { hours = null, ...heard } = readHeard(values, faults)
    if (values.says.trim() === '') faults.says = 'What do they say is wrong?'
    for (const [name, message] of Object.entries(faults)) form.setError(name, { type: 'typed', message: message ?? '' })
    if (Object.keys(faults).length === 0) edit.send({ ...heard, hours, says: values.says.trim() }, onShut)
  }
  const listed = faultList(form.formState.errors, NAMES)
  return (
    <Form enter="next" onSend={send} aria-label="Correct what was reported">
      {listed.length > 0 && <ProblemSummary title="It is not written yet." faults={listed} attempt={attempt} />}
      <EditRefused
        edit={edit}
        standsNow={edit.meanwhile === undefined ? '' : `${cameWords(edit.meanwhile, today)}: “${edit.meanwhile.says ?? ''}”`}
      />
      <HeardFields form={form} today={today} saysLabel="What they say is wrong" saysMost={1000} />
      <Buttons>
        <Button type="submit" busy={edit.busy}>
          Write it so
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
