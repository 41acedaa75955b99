import { useState } from 'react'
import { type GaugeStudy, gaugeStudyNew, STUDY_LIMITS } from '#contract/gauge-studies.ts'
import { readLength } from '#core/units.ts'
import { useStartStudy } from '#web/features/gauge-studies/queries.ts'
import { newId } from '#web/lib/id.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { fieldNameOf } from '#web/lib/problem-to-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField, SelectField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { PickMany } from '#web/ui/pick.tsx'

export interface StartFormProps {
  instruments: readonly { id: string; name: string }[]
  people: readonly { id: string; name: string }[]
  onStarted(study: GaugeStudy): void
  onShut(): void
}

const TURNS = Array.from({ length: STUDY_LIMITS.rounds.max - STUDY_LIMITS.rounds.min + 1 }, (_, index) => index + STUDY_LIMITS.rounds.min)

const SAID: Readonly<Record<string, string>> = {
  name: 'Give it a name.',
  what: 'Say what is read.',
  instrumentId: 'Choose the instrument.',
  parts: `From ${STUDY_LIMITS.parts.min} to ${STUDY_LIMITS.parts.max} parts, one a line, each another.`,
  people: `Two or three people.`,
  toleranceMm: 'More than 0 and at most 10 mm.',
}

/** What is read with what, by whom, how often. */
export function StartForm({ instruments, people, onStarted, onShut }: StartFormProps) {
  const start = useStartStudy()
  const [id] = useState(newId)
  const [given, setGiven] = useState({
    name: '',
    instrumentId: '',
    what: '',
    tolerance: '',
    parts: '',
    people: [] as string[],
    rounds: '2',
  })
  const [found, setFound] = useState<Record<string, string>>({})
  const [attempt, setAttempt] = useState(0)
  const refused =
    start.error instanceof Problem
      ? Object.fromEntries(start.error.errors.map((one) => [fieldNameOf(one.pointer).split(/[./[]/)[0] ?? '', one.detail]))
      : {}
  const faults: Record<string, string> = { ...found, ...refused }
  const send = () => {
    setAttempt(attempt + 1)
    const tolerance = readLength(given.tolerance, 'mm')
    const read = gaugeStudyNew.safeParse({
      id,
      name: given.name.trim(),
      instrumentId: given.instrumentId,
      what: given.what.trim(),
      ...(given.tolerance.trim() === '' ? {} : { toleranceMm: tolerance.ok ? tolerance.value.mm : Number.NaN }),
      parts: given.parts
        .split('\n')
        .map((part) => part.trim())
        .filter((part) => part !== ''),
      people: given.people,
      rounds: Number(given.rounds),
    })
    setFound(
      read.success
        ? {}
        : Object.fromEntries(read.error.issues.map(({ path: [name = ''], message }) => [String(name), SAID[String(name)] ?? message])),
    )
    if (read.success) start.mutateAsync(read.data).then(onStarted, () => undefined)
  }
  return (
    <Form enter="next" onSend={send} aria-label="Start a gauge study">
      {attempt > 0 && (Object.keys(faults).length > 0 || start.isError) && (
        <ProblemSummary
          title="The study is not started yet."
          attempt={attempt}
          faults={Object.entries(faults).map(([name, text]) => ({ name, text }))}
        >
          {start.isError && Object.keys(faults).length === 0 && <p>{inWords(start.error)}</p>}
        </ProblemSummary>
      )}
      <div className="fields">
        <TextField
          label="What the study is called"
          name="name"
          hint="such as dial 4 on five cranks"
          maxLength={80}
          value={given.name}
          error={faults.name}
          onChange={(event) => setGiven({ ...given, name: event.target.value })}
        />
        <SelectField
          label="Read with"
          name="instrumentId"
          nothing="choose"
          choices={instruments.map((one) => ({ value: one.id, label: one.name }))}
          value={given.instrumentId}
          error={faults.instrumentId}
          onChange={(event) => setGiven({ ...given, instrumentId: event.target.value })}
        />
        <TextField
          label="What is read"
          name="what"
          hint="such as full swing at the left end"
          maxLength={120}
          value={given.what}
          error={faults.what}
          onChange={(event) => setGiven({ ...given, what: event.target.value })}
        />
        <MeasureField
          label="Window it has to judge"
          hint="from one limit to the other; may be left out"
          name="toleranceMm"
          unit="mm"
          value={given.tolerance}
          error={faults.toleranceMm}
          onChange={(tolerance) => setGiven({ ...given, tolerance })}
        />
        <AreaField
          label="Parts, one a line"
          name="parts"
          hint="tags or chalk marks; five are usual"
          rows={5}
          value={given.parts}
          error={faults.parts}
          onChange={(event) => setGiven({ ...given, parts: event.target.value })}
        />
        <SelectField
          label="Times each"
          name="rounds"
          choices={TURNS.map((turn) => ({ value: String(turn), label: String(turn) }))}
          value={given.rounds}
          onChange={(event) => setGiven({ ...given, rounds: event.target.value })}
        />
      </div>
      <PickMany
        label="Who reads"
        name="people"
        options={people.map((one) => ({ value: one.id, label: one.name }))}
        value={given.people}
        error={faults.people}
        onChange={(chosen) => setGiven({ ...given, people: [...chosen] })}
      />
      <Buttons>
        <Button type="submit" busy={start.isPending}>
          Start it
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
