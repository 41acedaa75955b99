/** Who did it or has it; the screens say this instead until the book is in reach again. */
const SOMEBODY = 'somebody'
const NAMES_A_PERSON: readonly string[] = ['by', 'person', 'measuredBy', 'checkedBy']
const LEFT_OUT: readonly string[] = ['holder', 'whose', 'customer', 'comebackWhy', 'note', 'says']

/**
 * An answer of the book as it may lie on the tablet: who is called somebody, and free words that may name a person are left
 * out (OWASP ASVS 5.0, 14.3.3: no personal data in browser storage).
 *
 * @example withoutNames({ by: 'Jonas', mm: 0.02 }) // { by: 'somebody', mm: 0.02 }
 */
export function withoutNames(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutNames)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value).flatMap(([name, one]) => {
      if (LEFT_OUT.includes(name) && typeof one !== 'number') return []
      if (NAMES_A_PERSON.includes(name) && typeof one === 'string') return [[name, SOMEBODY]]
      return [[name, withoutNames(one)]]
    }),
  )
}
