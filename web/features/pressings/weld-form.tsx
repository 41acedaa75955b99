import '#web/features/pressings/pressings.css'
import { useState } from 'react'
import type { z } from 'zod'
import type { weld } from '#contract/pressings.ts'
import { WELD_AMPS } from '#core/limits.ts'
import { useWeld } from '#web/features/pressings/queries.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { readQuantity } from '#web/lib/quantity.ts'
import { Button } from '#web/ui/button.tsx'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { QuantityField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

export interface WeldFormProps {
  jobId: string
  onWelded(): void
}

/** The weld as it was done. Everything but that it was done may be left empty. */
export function WeldForm({ jobId, onWelded }: WeldFormProps) {
  const put = useWeld(jobId)
  const [id] = useState(newId)
  const [given, setGiven] = useState({ filler: '', amps: '', note: '' })
  const [fault, setFault] = useState<string | undefined>(undefined)
  const [attempt, setAttempt] = useState(0)
  const send = () => {
    setAttempt(attempt + 1)
    const amps = readQuantity(given.amps, 'A')
    const isTyped = given.amps.trim() !== ''
    const isRight = !isTyped || (amps.ok && Number.isInteger(amps.value) && amps.value >= WELD_AMPS.min && amps.value <= WELD_AMPS.max)
    setFault(isRight ? undefined : `Whole amperes, ${WELD_AMPS.min} to ${WELD_AMPS.max}.`)
    if (!isRight) return
    put
      .mutateAsync({
        id,
        ...(given.filler.trim() === '' ? {} : { filler: given.filler.trim() }),
        ...(isTyped && amps.ok ? { amps: amps.value } : {}),
        ...(given.note.trim() === '' ? {} : { note: given.note.trim() }),
      })
      .then(onWelded, () => undefined)
  }
  return (
    <Form enter="next" onSend={send} aria-label="The weld">
      {(put.isError || fault !== undefined) && (
        <ProblemSummary
          title="It is not in the book yet."
          attempt={attempt}
          faults={fault === undefined ? [] : [{ name: 'amps', text: `Current: ${fault}` }]}
        >
          {put.isError && <p>{inWords(put.error)}</p>}
        </ProblemSummary>
      )}
      <div className="fields">
        <TextField
          label="Filler"
          hint="stainless, 309 type, or what was used"
          maxLength={80}
          value={given.filler}
          onChange={(event) => setGiven({ ...given, filler: event.target.value })}
        />
        <QuantityField
          label="Current"
          name="amps"
          unit="A"
          value={given.amps}
          error={fault}
          onChange={(amps) => setGiven({ ...given, amps })}
        />
      </div>
      <AreaField
        label="Where, how many, what was seen"
        hint="three or four tacks, opposite places, outside face"
        rows={2}
        maxLength={400}
        value={given.note}
        onChange={(event) => setGiven({ ...given, note: event.target.value })}
      />
      <Button kind="go" type="submit" busy={put.isPending}>
        It is welded
      </Button>
    </Form>
  )
}

export function WeldList({ welds }: { welds: readonly z.infer<typeof weld>[] }) {
  const { zone } = useHere()
  if (welds.length === 0) return <p className="soft">No weld on this job.</p>
  return (
    <ol className="press-list" aria-label="Welds">
      {welds.map((one) => (
        <li key={one.id}>
          <p className="soft">
            {dayAndTime(one.occurredAt, zone, Date.now())} · {one.by}
          </p>
          <p>
            {[one.filler, one.amps === undefined ? undefined : `${one.amps} A`, one.note]
              .filter((word) => word !== undefined && word !== '')
              .join(' · ') || 'welded'}
          </p>
        </li>
      ))}
    </ol>
  )
}
