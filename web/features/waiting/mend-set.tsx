import { useState } from 'react'
import { z } from 'zod'
import { readLength } from '#core/units.ts'
import { Button } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField } from '#web/ui/measure-field.tsx'

const withFigures = z.looseObject({ values: z.array(z.looseObject({ place: z.string(), mm: z.number() })).min(1) })
export type SetWithFigures = z.infer<typeof withFigures>

/** The figures of a set of readings; undefined where the record is something else. */
export function figuresOf(body: unknown): SetWithFigures | undefined {
  const read = withFigures.safeParse(body)
  return read.success ? read.data : undefined
}

export interface MendSetProps {
  set: SetWithFigures
  busy: boolean
  onMended(set: SetWithFigures): void
}

/** The figures of a set that the book did not take, each to be put right as it was read. */
export function MendSet({ set, busy, onMended }: MendSetProps) {
  const [typed, setTyped] = useState(() => set.values.map((value) => String(value.mm)))
  const [fault, setFault] = useState(false)
  const send = () => {
    const read = typed.map((text) => readLength(text, 'mm'))
    const isWhole = read.every((one) => one.ok)
    setFault(!isWhole)
    if (!isWhole) return
    const values = set.values.map((value, place) => {
      const one = read[place]
      const mm = one?.ok ? one.value.mm : value.mm
      return mm === value.mm ? value : { ...value, mm, typed: typed[place] ?? '', unit: one?.ok ? one.value.unit : 'mm' }
    })
    onMended({ ...set, values })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Put the figures right">
      <div className="fields">
        {set.values.map((value, place) => (
          <MeasureField
            // biome-ignore lint/suspicious/noArrayIndexKey: the places of a set keep their order
            key={place}
            label={`Reading ${place + 1}, ${value.place}`}
            unit="mm"
            value={typed[place] ?? ''}
            onChange={(text) => setTyped(typed.map((one, at) => (at === place ? text : one)))}
          />
        ))}
      </div>
      {fault && <p role="alert">Every reading needs a figure.</p>}
      <Button type="submit" busy={busy}>
        Send it mended
      </Button>
    </Form>
  )
}
