import { useState } from 'react'
import { lookLacking, type PressForm, peakTonnesOf } from '#web/features/pressings/press-form.ts'
import { type Direction, GALLING_WORDS, type Galling, tonnes } from '#web/features/pressings/press-words.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { Over, ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

export interface PressLookProps {
  form: PressForm
  direction: Direction
  busy: boolean
  error: unknown
  onChange(part: Partial<PressForm>): void
  onKeep(): void
}

/** What the web shows once it is off, or what it went together with. */
export function PressLook({ form, direction, busy, error, onChange, onKeep }: PressLookProps) {
  const [attempt, setAttempt] = useState(0)
  const lacking = attempt === 0 ? [] : lookLacking(form, direction)
  const faultOf = (name: string) => lacking.find((one) => one.name === name)?.text
  const peak = peakTonnesOf(form.peak)
  const send = () => {
    setAttempt(attempt + 1)
    if (lookLacking(form, direction).length === 0) onKeep()
  }
  return (
    <Form enter="next" onSend={send} aria-label={`The ${form.side} web`}>
      <h2>
        {form.side} web, {peak === undefined ? 'gauge not read' : tonnes(peak)}
      </h2>
      {(lacking.length > 0 || (error !== null && error !== undefined)) && (
        <ProblemSummary title="It is not in the book yet." attempt={attempt} faults={lacking}>
          {error !== null && error !== undefined && <p>{inWords(error)}</p>}
        </ProblemSummary>
      )}
      {direction === 'apart' && (
        <>
          <Pick
            label="Bore and pin end, with a lens"
            name="galling"
            error={faultOf('galling')}
            options={(Object.keys(GALLING_WORDS) as Galling[]).map((value) => ({ value, label: GALLING_WORDS[value] }))}
            value={form.galling}
            onChange={(galling) => onChange({ galling })}
          />
          <Pick
            label="Crack at the bore or a balance hole"
            name="crack"
            error={faultOf('crack')}
            options={[
              { value: 'no', label: 'none seen' },
              { value: 'yes', label: 'a crack' },
            ]}
            value={form.crack}
            onChange={(crack) => onChange({ crack })}
          />
          {form.crack === 'yes' && (
            <p>
              <Over>A crack stops the job: another half, or scrap it. Nobody can let it pass.</Over>
            </p>
          )}
          {form.galling === 'heavy' && <p>Torn metal costs fit. Measure the bore before anything else is said.</p>}
          <TextField
            label="Marked on this web"
            name="webMark"
            error={faultOf('webMark')}
            hint="so that the halves go back as they were: L 318-V"
            maxLength={60}
            value={form.webMark}
            onChange={(event) => onChange({ webMark: event.target.value })}
          />
        </>
      )}
      <TextField
        label="Oil or paste"
        hint="always the same: it moves the gauge by a third"
        maxLength={80}
        value={form.lubricant}
        onChange={(event) => onChange({ lubricant: event.target.value })}
      />
      <TextField
        label="What else was seen"
        maxLength={400}
        value={form.note}
        onChange={(event) => onChange({ note: event.target.value })}
      />
      <div className="press-buttons">
        <Button kind="go" type="submit" wide busy={busy}>
          Keep the {form.side} web
        </Button>
        <Button wide onClick={() => onChange({ peakTaken: false, notReadBecause: '' })}>
          Back to the gauge
        </Button>
      </div>
    </Form>
  )
}
