import { expect } from 'vitest'
import type { Answer } from '#core/answer.ts'

/** One check of a vector file. */
export interface VectorRow<Input> {
  name: string
  source: string
  status: string
  tolerance: number
  input: Input
  expected: unknown
}

/** Every member of `expected` stands in `found`: numbers within the tolerance, all else alike. Members not expected are not looked at. */
export function expectNear(found: unknown, expected: unknown, tolerance: number, at = ''): void {
  if (typeof expected === 'number') {
    expect(typeof found, at).toBe('number')
    expect(Math.abs((found as number) - expected), `${at}: ${found} for ${expected}`).toBeLessThanOrEqual(tolerance)
  } else if (Array.isArray(expected)) {
    expect(found, at).toHaveLength(expected.length)
    expected.forEach((one, index) => {
      expectNear((found as unknown[])[index], one, tolerance, `${at}/${index}`)
    })
  } else if (typeof expected === 'object' && expected !== null) {
    for (const [name, one] of Object.entries(expected))
      expectNear((found as Record<string, unknown>)[name], one, tolerance, `${at}/${name}`)
  } else expect(found, at).toBe(expected)
}

export function solved<Value>(answer: Answer<Value>): Value {
  if (!answer.ok) throw new Error(`${answer.reason}: ${answer.detail}`)
  return answer.value
}

/** A refusal with this reason, in a sentence that a person can act on. */
export function expectRefused(answer: Answer<unknown>, reason: string): void {
  expect(answer).toMatchObject({ ok: false, reason })
  expect(!answer.ok && answer.detail).toMatch(/^[A-Z][^!]*\.$/)
}

/** Nothing in it that JSON could not write. */
export function expectWritable(value: unknown): void {
  if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true)
  else if (typeof value === 'object' && value !== null) for (const one of Object.values(value)) expectWritable(one)
  else expect(value).not.toBeUndefined()
}
