import type { FieldErrors } from 'react-hook-form'
import { readQuantity } from '#web/lib/quantity.ts'
import type { FaultOfField } from '#web/ui/notice.tsx'

/** What is asked of everything that is heard from outside: a day, the hours since it went home, and their words. As typed. */
export interface HeardForm extends Record<string, string> {
  day: string
  hours: string
  hoursHow: 'metered' | 'declared' | 'unknown'
  says: string
}

export interface Heard {
  day: string
  hours?: number
  hoursHow: HeardForm['hoursHow']
}

type Faults = Partial<Record<string, string>>

/** The day and the hours as the wire takes them; what is to be mended goes to faults, by field. */
export function readHeard(form: HeardForm, faults: Faults): Heard {
  if (form.day === '') faults.day = 'On which day?'
  const read = readQuantity(form.hours, 'h')
  if (read.ok && read.value >= 0) {
    if (form.hoursHow === 'unknown') faults.hoursHow = 'Say how the hours are known: off a meter, or declared.'
    return { day: form.day, hours: read.value, hoursHow: form.hoursHow }
  }
  if (read.ok) faults.hours = 'Not less than 0.'
  else if (!read.nothingTyped) faults.hours = read.detail
  else if (form.hoursHow !== 'unknown') faults.hours = 'How many hours? Where nobody knows, choose unknown.'
  return { day: form.day, hoursHow: form.hoursHow }
}

/** What is to be mended, in the order of the form. */
export function faultList(errors: FieldErrors<HeardForm>, names: readonly string[]): FaultOfField[] {
  return names.flatMap((name) => {
    const text = errors[name]?.message
    return typeof text === 'string' ? [{ name, text }] : []
  })
}
