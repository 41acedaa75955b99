import { useState } from 'react'
import type { Instrument } from '#contract/instruments.ts'
import { readLength } from '#core/units.ts'
import { useCheckInstrument } from '#web/features/instruments/queries.ts'
import { dueAfter } from '#web/features/instruments/words.ts'
import { day } from '#web/lib/format.ts'
import { inWords } from '#web/lib/problem.ts'
import { refusedFields } from '#web/lib/problem-to-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { DateField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

/** A check on gauge blocks or a setting rod: what it read, and whether that is good. */
export function CheckForm({ one, today, onShut }: { one: Instrument; today: string; onShut(): void }) {
  const check = useCheckInstrument(one.id)
  const [held, setHeld] = useState<'good' | 'off' | undefined>(undefined)
  const [given, setGiven] = useState({ off: '', note: '', dueOn: dueAfter(today) })
  const [attempt, setAttempt] = useState(0)
  const [found, setFound] = useState<Record<string, string>>({})
  const faults = { ...found, ...refusedFields(check.error) }
  const send = () => {
    setAttempt(attempt + 1)
    const off = readLength(given.off, 'mm')
    const unread: Record<string, string> = {
      ...(held === undefined ? { held: 'Say whether it read right.' } : {}),
      ...(off.ok || off.reason === 'nothing-typed' ? {} : { offMm: off.detail }),
    }
    setFound(unread)
    if (Object.keys(unread).length > 0) return
    check
      .mutateAsync({
        kind: 'check',
        held: held === 'good',
        ...(off.ok ? { offMm: off.value.mm } : {}),
        ...(given.note.trim() === '' ? {} : { note: given.note.trim() }),
        ...(held === 'good' && given.dueOn !== '' ? { dueOn: given.dueOn } : {}),
      })
      .then(onShut, () => undefined)
  }
  return (
    <Form enter="next" onSend={send} aria-label={`Check of ${one.name}`}>
      {(Object.keys(faults).length > 0 || check.isError) && (
        <ProblemSummary
          title="The check is not written down."
          attempt={attempt}
          faults={Object.entries(faults).map(([name, text]) => ({ name, text }))}
        >
          {check.isError && Object.keys(faults).length === 0 && <p>{inWords(check.error)}</p>}
        </ProblemSummary>
      )}
      <Pick
        label="On gauge blocks or its setting rod"
        name="held"
        options={[
          { value: 'good', label: 'It reads right' },
          { value: 'off', label: 'It does not' },
        ]}
        value={held}
        error={faults.held}
        onChange={setHeld}
      />
      <div className="fields">
        <MeasureField
          label="It reads more by"
          name="offMm"
          unit="mm"
          value={given.off}
          error={faults.offMm}
          onChange={(off) => setGiven({ ...given, off })}
        />
        <TextField
          label="How it was checked"
          name="note"
          maxLength={200}
          value={given.note}
          error={faults.note}
          onChange={(event) => setGiven({ ...given, note: event.target.value })}
        />
        {held === 'good' && (
          <DateField
            label="Next check due"
            name="dueOn"
            value={given.dueOn}
            error={faults.dueOn}
            {...(given.dueOn === '' ? {} : { readBack: day(given.dueOn, today) })}
            onChange={(event) => setGiven({ ...given, dueOn: event.target.value })}
          />
        )}
      </div>
      <Buttons>
        <Button type="submit" busy={check.isPending}>
          It was checked
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
