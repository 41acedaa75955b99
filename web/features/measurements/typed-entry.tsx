import { useState } from 'react'
import type { LengthUnit } from '#core/units.ts'
import { figureTyped, type TakenFigure } from '#web/features/measurements/set-state.ts'
import { Button } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField, UNIT_WORDS } from '#web/ui/measure-field.tsx'
import { Pick } from '#web/ui/pick.tsx'

const UNITS = (['mm', 'thou', 'tenth'] as const).map((value) => ({ value, label: UNIT_WORDS[value] }))

export interface TypedEntryProps {
  /** What is read: `left web`. */
  says: string
  /** The unit typed last; a bare figure is in it. */
  unit: LengthUnit
  onUnit(unit: LengthUnit): void
  onTake(figure: TakenFigure): void
}

/** A figure typed with its unit, for a micrometer in thou or tenths: it is kept as it was typed. */
export function TypedEntry({ says, unit, onUnit, onTake }: TypedEntryProps) {
  const [typed, setTyped] = useState('')
  const [fault, setFault] = useState<string | undefined>(undefined)
  const send = () => {
    const read = figureTyped(typed, unit)
    if (!read.ok) {
      setFault(read.detail)
      return
    }
    setFault(undefined)
    setTyped('')
    onTake(read.figure)
  }
  return (
    <details className="typed-entry">
      <summary>Type it, in mm, thou or tenths</summary>
      <Form enter="sends" onSend={send}>
        <Pick label="Unit of a bare figure" options={UNITS} value={unit} onChange={onUnit} />
        <MeasureField
          label={says}
          unit={unit}
          value={typed}
          error={fault}
          onChange={(text) => {
            setTyped(text)
            setFault(undefined)
          }}
        />
        <Button type="submit">Take what is typed</Button>
      </Form>
    </details>
  )
}
