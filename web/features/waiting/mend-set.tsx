import { useState } from 'react'
import { readLength } from '#core/units.ts'
import { fields, figure, listOf, optional, read, text } from '#web/lib/shape.ts'
import { Button } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField, QuantityField } from '#web/ui/measure-field.tsx'

export interface SetWithFigures {
  values: { place: string; mm: number; unit?: string | undefined }[]
}

const withFigures = fields<SetWithFigures>({
  values: listOf(fields<SetWithFigures['values'][number]>({ place: text, mm: figure, unit: optional(text) })),
})

/** The figures of a set of readings; undefined where the record is something else. */
export function figuresOf(body: unknown): SetWithFigures | undefined {
  const set = read(withFigures, body)
  return set === undefined || set.values.length === 0 ? undefined : set
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
      const unit = value.unit === 'deg' ? 'deg' : one?.ok ? one.value.unit : 'mm'
      return mm === value.mm ? value : { ...value, mm, typed: typed[place] ?? '', unit }
    })
    onMended({ ...set, values })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Put the figures right">
      <div className="fields">
        {set.values.map((value, place) => {
          const onChange = (text: string) => setTyped(typed.map((one, at) => (at === place ? text : one)))
          const label = `Reading ${place + 1}, ${value.place}`
          const given = typed[place] ?? ''
          // biome-ignore lint/suspicious/noArrayIndexKey: the places of a set keep their order
          if (value.unit === 'deg') return <QuantityField key={place} label={label} unit="°" value={given} onChange={onChange} />
          return (
            <MeasureField
              // biome-ignore lint/suspicious/noArrayIndexKey: the places of a set keep their order
              key={place}
              label={label}
              unit="mm"
              value={given}
              onChange={onChange}
            />
          )
        })}
      </div>
      {fault && <p role="alert">Every reading needs a figure.</p>}
      <Button type="submit" busy={busy}>
        Send it mended
      </Button>
    </Form>
  )
}
