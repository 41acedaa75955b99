import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { littlesLaw, meanOf, percentile } from '#core/flow.ts'
import vectors from '#tests/vectors/flow.json' with { type: 'json' }

const once = (values: readonly number[]) => values.map((value) => ({ value, count: 1 }))

describe('littlesLaw', () => {
  test.each(vectors.littlesLaw)('$source ($status)', ({ given, expected, tolerance }) => {
    const answer = littlesLaw(given as { inHand: number; rate: number })
    for (const [name, value] of Object.entries(expected))
      expect(Math.abs(answer[name as 'timeHere'] - value)).toBeLessThanOrEqual(tolerance)
  })

  test('each of the three follows from the other two', () => {
    const some = fc.double({ min: 0.001, max: 1000, noNaN: true })
    fc.assert(
      fc.property(some, some, (rate, timeHere) => {
        const { inHand } = littlesLaw({ rate, timeHere })
        expect(littlesLaw({ inHand, rate }).timeHere).toBeCloseTo(timeHere, 6)
        expect(littlesLaw({ inHand, timeHere }).rate).toBeCloseTo(rate, 6)
      }),
    )
  })

  test('refuses what is below 0 and a division by 0', () => {
    expect(() => littlesLaw({ inHand: -1, rate: 1 })).toThrow('littlesLaw needs figures of 0 or more')
    expect(() => littlesLaw({ inHand: 1, rate: 0 })).toThrow('littlesLaw needs a rate or a time over 0')
    expect(() => littlesLaw({ inHand: Number.NaN, timeHere: 1 })).toThrow(RangeError)
  })
})

describe('percentile', () => {
  const { values, p, type6, tolerance6, type7, tolerance7, source, status } = vectors.percentiles
  test(`${source} (${status})`, () => {
    expect(Math.abs(percentile(once(values), p, 6)! - type6)).toBeLessThanOrEqual(tolerance6)
    expect(Math.abs(percentile(once(values), p, 7)! - type7)).toBeLessThanOrEqual(tolerance7)
  })

  test('from counts it is that of the values one by one, and lies between neighbours', () => {
    const counts = fc.array(fc.record({ value: fc.integer({ min: 0, max: 30 }), count: fc.integer({ min: 0, max: 4 }) }), { maxLength: 8 })
    fc.assert(
      fc.property(counts, fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(6 as const, 7 as const), (sample, at, type) => {
        const all = sample.flatMap(({ value, count }) => Array.from({ length: count }, () => value)).sort((a, b) => a - b)
        const answer = percentile(sample, at, type)
        expect(answer).toEqual(percentile(once(all), at, type))
        if (all.length === 0) expect(answer).toBeNull()
        else {
          expect(answer).toBeGreaterThanOrEqual(all[0]!)
          expect(answer).toBeLessThanOrEqual(all.at(-1)!)
          expect(meanOf(sample)).toBeCloseTo(all.reduce((sum, value) => sum + value, 0) / all.length, 9)
        }
      }),
    )
  })

  test('refuses shares outside 0 to 1 and counts that are not whole', () => {
    expect(() => percentile(once([1]), 1.1)).toThrow('percentile needs p from 0 to 1')
    expect(() => percentile([{ value: 1, count: 0.5 }], 0.5)).toThrow('percentile needs values with whole counts')
    expect(meanOf([])).toBeNull()
  })
})
