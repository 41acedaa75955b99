import { useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import { ENGINE_FIGURES, type Engine, type EngineFigureName, SOURCES } from '#contract/engines.ts'
import { faultOfFigure } from '#core/engine-sheet.ts'
import { readLength } from '#core/units.ts'
import { useFigureCorrection } from '#web/features/engines/queries.ts'
import { SOURCE_WORDS, sheetFigure } from '#web/features/engines/words.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { SelectField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

export interface FigureFormProps {
  sheet: Engine
  name: EngineFigureName
  onShut(): void
}

type Source = (typeof SOURCES)[number]

/** A figure of the sheet as it should be, with where it comes from and why; the earlier one stays readable. */
export function FigureForm({ sheet, name, onShut }: FigureFormProps) {
  const stands = sheet.figures.find((one) => one.name === name)
  const here = useHere()
  const client = useQueryClient()
  const correction = useFigureCorrection(sheet.id)
  const [typed, setTyped] = useState(stands === undefined ? '' : sheetFigure(stands.value))
  const [source, setSource] = useState<Source | ''>('')
  const [note, setNote] = useState('')
  const [tried, setTried] = useState(false)
  // The version that was in sight when this form opened, so that two cannot correct past each other.
  const [replaces, setReplaces] = useState(stands?.version ?? 0)
  const read = readLength(typed, 'mm')
  const { says, min, max } = ENGINE_FIGURES[name]
  const isInRange = read.ok && read.value.mm >= min && read.value.mm <= max
  const wrongValue = !read.ok
    ? read.detail
    : isInRange
      ? faultOfFigure(Object.fromEntries(sheet.figures.map((one) => [one.name, one.value])), name, read.value.mm)?.detail
      : `From ${min} to ${max} mm.`
  const isStale = correction.error instanceof Problem && correction.error.type === 'stale-version'
  const send = () => {
    setTried(true)
    if (!read.ok || wrongValue !== undefined || source === '' || note.trim() === '') return
    correction.mutate(
      { name, value: read.value.mm, source, note: note.trim(), replaces },
      // What stands now comes onto the sheet behind this form; the form keeps what was typed.
      { onSuccess: onShut, onError: () => void client.invalidateQueries({ queryKey: ['engines'] }) },
    )
  }
  return (
    <Form enter="next" onSend={send} aria-label={`Correct: ${says}`}>
      {correction.isError && (
        <ProblemSummary title="The figure stands as it was.">
          <p>{inWords(correction.error)}</p>
          {isStale && stands !== undefined && stands.version !== replaces && (
            <p>
              {sheetFigure(stands.value)} stands now, from {SOURCE_WORDS[stands.source]}
              {stands.by !== undefined && `, by ${stands.by}`}.{' '}
              <button type="button" className="plain" onClick={() => setReplaces(stands.version)}>
                Correct that one instead
              </button>
            </p>
          )}
        </ProblemSummary>
      )}
      <MeasureField label={says} unit="mm" value={typed} error={tried ? wrongValue : undefined} onChange={setTyped} />
      <SelectField
        label="Where it comes from"
        nothing="choose"
        choices={SOURCES.filter((one) => one !== 'invented').map((value) => ({ value, label: SOURCE_WORDS[value] }))}
        value={source}
        error={tried && source === '' ? 'A figure without a source is a guess: choose one.' : undefined}
        onChange={(event) => setSource(SOURCES.find((one) => one === event.target.value) ?? '')}
      />
      <TextField
        label="Why, and from where exactly"
        hint="page and edition, or how it was measured"
        maxLength={200}
        value={note}
        error={tried && note.trim() === '' ? 'Say why, in a few words.' : undefined}
        onChange={(event) => setNote(event.target.value)}
      />
      {here.role === 'bench' && <p className="soft">Everybody works by this sheet; look twice.</p>}
      <Buttons>
        <Button type="submit" busy={correction.isPending}>
          {stands === undefined ? 'Put it on the sheet' : 'Correct it'}
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
