import { useState } from 'react'
import { type Instrument, instrumentNew } from '#contract/instruments.ts'
import { readLength } from '#core/units.ts'
import { useAddInstrument } from '#web/features/instruments/queries.ts'
import { dueAfter, KIND_WORDS, KINDS } from '#web/features/instruments/words.ts'
import { day } from '#web/lib/format.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { refusedFields } from '#web/lib/problem-to-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { DateField, SelectField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

const LABELS: Readonly<Record<string, string>> = {
  name: 'Name on the bench',
  kind: 'What it is',
  stepMm: 'One division',
  checkedOn: 'Last check',
  dueOn: 'Next check due',
}

interface Given {
  name: string
  kind: Instrument['kind']
  step: string
  checkedOn: string
  dueOn: string
}

/** What it is, its division, and its checks. */
export function AddInstrument({ today, onShut }: { today: string; onShut(): void }) {
  const add = useAddInstrument()
  const [id] = useState(newId)
  const [given, setGiven] = useState<Given>({ name: '', kind: 'dial', step: '0.01', checkedOn: today, dueOn: dueAfter(today) })
  const [found, setFound] = useState<Record<string, string>>({})
  const [attempt, setAttempt] = useState(0)
  const faults = { ...found, ...refusedFields(add.error) }

  const send = () => {
    setAttempt(attempt + 1)
    const step = readLength(given.step, 'mm')
    const body = {
      id,
      name: given.name.trim(),
      kind: given.kind,
      stepMm: step.ok ? step.value.mm : Number.NaN,
      ...(given.checkedOn === '' ? {} : { checkedOn: given.checkedOn }),
      ...(given.dueOn === '' ? {} : { dueOn: given.dueOn }),
    }
    const read = instrumentNew.safeParse(body)
    setFound(
      read.success
        ? {}
        : Object.fromEntries(
            read.error.issues.map((issue) => [
              String(issue.path[0]),
              issue.path[0] === 'stepMm' ? (step.ok ? 'More than 0 and at most 10 mm.' : step.detail) : issue.message,
            ]),
          ),
    )
    if (read.success) add.mutateAsync(read.data).then(onShut, () => undefined)
  }
  const listed = Object.entries(faults).map(([name, text]) => ({ name, text: `${LABELS[name] ?? 'It'}: ${text}` }))
  return (
    <Form enter="next" onSend={send} aria-label="Add an instrument">
      {(listed.length > 0 || add.isError) && (
        <ProblemSummary title="It is not in the book yet." attempt={attempt} faults={listed}>
          {add.isError && listed.length === 0 && <p>{inWords(add.error)}</p>}
        </ProblemSummary>
      )}
      <div className="fields">
        <TextField
          label="Name on the bench"
          name="name"
          hint="such as dial 4; micrometer 3, 50 to 75"
          maxLength={60}
          autoComplete="off"
          value={given.name}
          error={faults.name}
          onChange={(event) => setGiven({ ...given, name: event.target.value })}
        />
        <SelectField
          label="What it is"
          name="kind"
          choices={KINDS.map((value) => ({ value, label: KIND_WORDS[value] }))}
          value={given.kind}
          onChange={(event) => setGiven({ ...given, kind: event.target.value as Instrument['kind'] })}
        />
        <MeasureField
          label="One division"
          name="stepMm"
          unit="mm"
          value={given.step}
          error={faults.stepMm}
          onChange={(step) => setGiven({ ...given, step })}
        />
        <DateField
          label="Last check"
          name="checkedOn"
          value={given.checkedOn}
          error={faults.checkedOn}
          {...(given.checkedOn === '' ? {} : { readBack: day(given.checkedOn, today) })}
          onChange={(event) => setGiven({ ...given, checkedOn: event.target.value })}
        />
        <DateField
          label="Next check due"
          name="dueOn"
          value={given.dueOn}
          error={faults.dueOn}
          {...(given.dueOn === '' ? {} : { readBack: day(given.dueOn, today) })}
          onChange={(event) => setGiven({ ...given, dueOn: event.target.value })}
        />
      </div>
      <Buttons>
        <Button type="submit" busy={add.isPending}>
          Put it into the book
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
