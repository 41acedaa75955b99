import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { sum } from '#core/numeric/sum.ts'

describe('sum', () => {
  it('keeps what plain addition loses', () => {
    const tenths = new Array<number>(10_000).fill(0.1)
    expect(sum(tenths)).toBe(1000)
    expect(tenths.reduce((total, value) => total + value, 0)).not.toBe(1000)
  })

  it('does not depend on the order', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { maxLength: 60 }), (values) => {
        const size = values.reduce((total, value) => total + Math.abs(value), 0)
        expect(Math.abs(sum(values) - sum([...values].reverse()))).toBeLessThanOrEqual(1e-15 * size)
      }),
    )
  })

  it('sums nothing to 0 and refuses what is not finite', () => {
    expect(sum([])).toBe(0)
    expect(() => sum([1, Number.NaN])).toThrow(/^sum needs finite values$/)
    expect(() => sum([Number.POSITIVE_INFINITY])).toThrow(RangeError)
  })
})
