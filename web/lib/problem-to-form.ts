import type { FieldPath, FieldValues, UseFormSetError } from 'react-hook-form'
import { inWords, Problem } from '#web/lib/problem.ts'

/** `/runout/0/mm` (RFC 6901, with or without the leading #) as the form knows it: `runout.0.mm`. The whole body is ''. */
export function fieldNameOf(pointer: string): string {
  const path = pointer.startsWith('#') ? decodeURIComponent(pointer.slice(1)) : pointer
  return path
    .split('/')
    .slice(1)
    .map((part) => part.replaceAll('~1', '/').replaceAll('~0', '~'))
    .join('.')
}

/**
 * Puts what the book refused beside the fields it refused. `names` are the fields on the screen; a name covers what lies
 * beneath it. What belongs to none of them goes to the head of the form (`root`), so that no refusal is ever swallowed.
 */
export function putOnForm<Values extends FieldValues>(error: unknown, names: readonly string[], setError: UseFormSetError<Values>): void {
  const atTheHead: string[] = []
  let first = true
  for (const fault of error instanceof Problem ? error.errors : []) {
    const path = fieldNameOf(fault.pointer)
    const name = names.find((one) => one === path) ?? names.find((one) => path.startsWith(`${one}.`))
    if (name === undefined) {
      atTheHead.push(fault.detail)
      continue
    }
    setError(name as FieldPath<Values>, { type: fault.code, message: fault.detail }, { shouldFocus: first })
    first = false
  }
  if (atTheHead.length > 0) setError('root', { type: 'refused', message: atTheHead.join(' ') })
  else if (first) setError('root', { type: 'refused', message: inWords(error) })
}

/** What the book found at each field, by the field's name; empty for any other fault. */
export function refusedFields(error: unknown): Record<string, string> {
  return error instanceof Problem ? Object.fromEntries(error.errors.map((one) => [fieldNameOf(one.pointer), one.detail])) : {}
}
