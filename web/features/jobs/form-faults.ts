import type { FieldErrors, FieldValues } from 'react-hook-form'
import type { FaultOfField } from '#web/ui/notice.tsx'

/** What is to be mended, in the order of the form, by the full name of each field; what belongs to none is left out. */
export function faultsOf<Values extends FieldValues>(errors: FieldErrors<Values>): FaultOfField[] {
  return Object.entries(errors).flatMap(([name, fault]) => (name === 'root' ? [] : faultsBeneath(name, fault)))
}

function faultsBeneath(name: string, fault: unknown): FaultOfField[] {
  if (typeof fault !== 'object' || fault === null) return []
  if ('message' in fault && typeof fault.message === 'string') return [{ name, text: fault.message }]
  return Object.entries(fault).flatMap(([inner, one]) => (inner === 'ref' ? [] : faultsBeneath(`${name}.${inner}`, one)))
}
