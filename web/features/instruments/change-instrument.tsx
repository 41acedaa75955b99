import { useState } from 'react'
import type { Instrument } from '#contract/instruments.ts'
import { useChangeInstrument } from '#web/features/instruments/queries.ts'
import { dueAfter } from '#web/features/instruments/words.ts'
import { readWorth, WORTH, worthOf } from '#web/features/instruments/worth.ts'
import { day } from '#web/lib/format.ts'
import { inWords } from '#web/lib/problem.ts'
import { refusedFields } from '#web/lib/problem-to-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { DateField, TextField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

interface ChangeInstrumentProps {
  one: Instrument
  today: string
}

/** A new check, another name, or the end of its use. */
export function ChangeInstrument({ one, today }: ChangeInstrumentProps) {
  if (one.ended) return <BackInUse one={one} />
  return (
    <Fold
      open={
        <span>
          Check or change<span className="spoken"> {one.name}</span>
        </span>
      }
    >
      {(shut) => <EntryForm one={one} today={today} onShut={shut} />}
    </Fold>
  )
}

function BackInUse({ one }: { one: Instrument }) {
  const change = useChangeInstrument(one)
  return (
    <>
      <Button busy={change.isPending} onClick={() => change.mutate({ ended: false })}>
        Use it again
      </Button>
      {change.isError && <p className="wrong">{inWords(change.error)}</p>}
    </>
  )
}

function EntryForm({ one, today, onShut }: ChangeInstrumentProps & { onShut(): void }) {
  const change = useChangeInstrument(one)
  const [given, setGiven] = useState({ name: one.name, checkedOn: today, dueOn: dueAfter(today), note: one.note ?? '' })
  const [worth, setWorth] = useState(worthOf(one))
  const read = readWorth(one, worth)
  const [attempt, setAttempt] = useState(0)
  const faults = { ...read.faults, ...refusedFields(change.error) }
  const send = () => {
    setAttempt(attempt + 1)
    if (Object.keys(read.faults).length > 0) return
    change
      .mutateAsync({
        ...(given.name.trim() === one.name || given.name.trim() === '' ? {} : { name: given.name.trim() }),
        ...(given.checkedOn === '' ? {} : { checkedOn: given.checkedOn }),
        ...(given.dueOn === '' ? {} : { dueOn: given.dueOn }),
        ...(given.note.trim() === (one.note ?? '') ? {} : { note: given.note.trim() === '' ? null : given.note.trim() }),
        ...read.change,
      })
      .then(onShut, () => undefined)
  }
  return (
    <Form enter="next" onSend={send} aria-label={`Check of ${one.name}`}>
      {attempt > 0 && (change.isError || Object.keys(read.faults).length > 0) && (
        <ProblemSummary
          title="It is not written down."
          attempt={attempt}
          faults={Object.entries(faults).map(([name, text]) => ({ name, text }))}
        >
          {change.isError && Object.keys(faults).length === 0 && <p>{inWords(change.error)}</p>}
        </ProblemSummary>
      )}
      <div className="fields">
        <TextField
          label="Name"
          name="name"
          maxLength={60}
          value={given.name}
          error={faults.name}
          onChange={(event) => setGiven({ ...given, name: event.target.value })}
        />
        <DateField
          label="Checked on"
          name="checkedOn"
          value={given.checkedOn}
          error={faults.checkedOn}
          {...(given.checkedOn === '' ? {} : { readBack: day(given.checkedOn, today) })}
          onChange={(event) =>
            setGiven({
              ...given,
              checkedOn: event.target.value,
              ...(event.target.value === '' ? {} : { dueOn: dueAfter(event.target.value) }),
            })
          }
        />
        <DateField
          label="Next check due"
          name="dueOn"
          value={given.dueOn}
          error={faults.dueOn}
          {...(given.dueOn === '' ? {} : { readBack: day(given.dueOn, today) })}
          onChange={(event) => setGiven({ ...given, dueOn: event.target.value })}
        />
        {one.kind === 'dial' &&
          WORTH.map(({ name, label }) => (
            <MeasureField
              key={name}
              label={label}
              name={name}
              unit="mm"
              value={worth[name]}
              error={faults[name]}
              onChange={(typed) => setWorth({ ...worth, [name]: typed })}
            />
          ))}
        <TextField
          label="Worth knowing of it"
          name="note"
          maxLength={200}
          value={given.note}
          error={faults.note}
          onChange={(event) => setGiven({ ...given, note: event.target.value })}
        />
      </div>
      <Buttons>
        <Button type="submit" busy={change.isPending}>
          It was checked
        </Button>
        <Button busy={change.isPending} onClick={() => change.mutateAsync({ ended: true }).then(onShut, () => undefined)}>
          Take it out of use
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
