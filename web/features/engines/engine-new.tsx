import '#web/features/engines/engines.css'
import { useState } from 'react'
import { useForm } from 'react-hook-form'
import { ENGINE_FIGURES, SOURCES } from '#contract/engines.ts'
import {
  EMPTY_HEAD,
  type EngineHead,
  type Faults,
  HEAD_LABELS,
  readNewSheet,
  type Source,
  type TypedFigures,
} from '#web/features/engines/engine-form.ts'
import { EngineHeadFields } from '#web/features/engines/engine-head-fields.tsx'
import { useEngineNew } from '#web/features/engines/queries.ts'
import { FIGURE_GROUPS, SOURCE_WORDS } from '#web/features/engines/words.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { fieldNameOf } from '#web/lib/problem-to-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { SelectField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

/** A new sheet: its head, and as many figures as are known; the rest can follow one by one. */
export function EngineNew({ onMade, onLeave }: { onMade(id: string): void; onLeave(): void }) {
  const making = useEngineNew()
  const form = useForm<EngineHead>({ defaultValues: EMPTY_HEAD })
  const [typed, setTyped] = useState<TypedFigures>({})
  const [source, setSource] = useState<Source | ''>('')
  const [note, setNote] = useState('')
  const [faults, setFaults] = useState<Faults>({})
  const [atTheHead, setAtTheHead] = useState<string | undefined>(undefined)
  const [attempt, setAttempt] = useState(0)

  const refuse = (found: Faults, words?: string) => {
    setFaults(found)
    setAtTheHead(words)
    form.clearErrors()
    for (const [name, message] of Object.entries(found)) if (name in HEAD_LABELS) form.setError(name, { type: 'typed', message })
  }
  const send = () => {
    if (making.isPending) return
    setAttempt(attempt + 1)
    const read = readNewSheet(form.getValues(), typed, source, note)
    if (!read.ok) {
      refuse(read.faults)
      return
    }
    refuse({})
    making.mutate(read.sheet, {
      onSuccess: (sheet) => onMade(sheet.id),
      onError: (error) => {
        const found: Faults = {}
        for (const one of error instanceof Problem ? error.errors : []) {
          const place = /^figures\.(\d+)\./.exec(fieldNameOf(one.pointer))?.[1]
          const name = place === undefined ? fieldNameOf(one.pointer) : read.sheet.figures[Number(place)]?.name
          if (name !== undefined) found[name] = one.detail
        }
        refuse(found, Object.keys(found).length === 0 ? inWords(error) : undefined)
      },
    })
  }
  return (
    <Form enter="next" onSend={send} aria-label="A new sheet">
      {(Object.keys(faults).length > 0 || atTheHead !== undefined) && (
        <ProblemSummary
          title="The sheet is not made yet."
          faults={Object.entries(faults).map(([name, text]) => ({ name, text }))}
          attempt={attempt}
        >
          {atTheHead !== undefined && <p>{atTheHead}</p>}
        </ProblemSummary>
      )}
      <div className="sheet-new">
        <section aria-label="Which engine">
          <h2>Which engine</h2>
          <EngineHeadFields form={form} />
          <SelectField
            label="Where the figures come from"
            name="source"
            nothing="choose"
            choices={SOURCES.filter((one) => one !== 'invented').map((value) => ({ value, label: SOURCE_WORDS[value] }))}
            value={source}
            error={faults.source}
            onChange={(event) => setSource(SOURCES.find((one) => one === event.target.value) ?? '')}
          />
          <TextField
            label="From where exactly"
            hint="page and edition; a single figure from elsewhere is corrected on the sheet afterwards"
            maxLength={200}
            value={note}
            onChange={(event) => setNote(event.target.value)}
          />
        </section>
        <section aria-label="Figures known so far">
          <h2>Figures known so far</h2>
          {FIGURE_GROUPS.map((group) => (
            <div key={group.title}>
              <h3>{group.title}</h3>
              <div className="fields">
                {group.names.map((name) => (
                  <MeasureField
                    key={name}
                    label={ENGINE_FIGURES[name].says}
                    name={name}
                    unit="mm"
                    value={typed[name] ?? ''}
                    error={faults[name]}
                    onChange={(text) => setTyped({ ...typed, [name]: text })}
                  />
                ))}
              </div>
            </div>
          ))}
        </section>
      </div>
      <Buttons>
        <Button type="submit" kind="go" busy={making.isPending}>
          Make the sheet
        </Button>
        <Button onClick={onLeave}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
