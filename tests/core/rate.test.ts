import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type RateInput, rate } from '#core/rate.ts'
import { expectNear, expectRefused, expectWritable, solved, type VectorRow } from '#tests/core/near.ts'
import vectors from '#tests/vectors/rate.json' with { type: 'json' }

const confidence = fc.double({ min: 0.01, max: 0.999_999, noNaN: true })

describe('rate', () => {
  it.each(vectors as unknown as VectorRow<RateInput>[])('$name ($source, $status)', ({ input, expected, tolerance }) => {
    expectNear(solved(rate(input)), expected, tolerance)
  })

  it('of failures and of what is left mirror one another', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), fc.double({ min: 0, max: 1, noNaN: true }), confidence, (total, share, level) => {
        const failures = Math.round(total * share)
        const one = solved(rate({ failures, total, confidence: level }))
        const other = solved(rate({ failures: total - failures, total, confidence: level }))
        for (const kind of ['wilson', 'exact'] as const) {
          expect(one[kind]!.low).toBeCloseTo(1 - other[kind]!.high, 9)
          expect(one[kind]!.high).toBeCloseTo(1 - other[kind]!.low, 9)
        }
      }),
    )
  })

  it('lies within both intervals, and they within 0 and 1', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e9 }), fc.double({ min: 0, max: 1, noNaN: true }), confidence, (total, share, level) => {
        const answer = solved(rate({ failures: Math.round(total * share), total, confidence: level }))
        expectWritable(answer)
        for (const { low, high } of [answer.wilson!, answer.exact]) {
          expect(low).toBeGreaterThanOrEqual(0)
          expect(low).toBeLessThanOrEqual(answer.rate + 1e-12)
          expect(high).toBeGreaterThanOrEqual(answer.rate - 1e-12)
          expect(high).toBeLessThanOrEqual(1)
        }
      }),
    )
  })

  it('over an exposure goes with its unit, and lies within its interval', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 1e6 }),
        fc.double({ min: 0.001, max: 1e6, noNaN: true }),
        confidence,
        (failures, exposure, level) => {
          const hours = solved(rate({ failures, exposure, confidence: level }))
          const minutes = solved(rate({ failures, exposure: exposure * 60, confidence: level }))
          expectWritable(hours)
          expect(hours).not.toHaveProperty('wilson')
          expect(hours.exact.low).toBeLessThanOrEqual(hours.rate * (1 + 1e-9))
          expect(hours.exact.high).toBeGreaterThanOrEqual(hours.rate * (1 - 1e-9))
          expect(hours.exact.high / minutes.exact.high / 60).toBeCloseTo(1, 9)
        },
      ),
    )
  })

  it('an exact interval over an exposure is what the binomial comes to for many trials', () => {
    const over = solved(rate({ failures: 7, exposure: 1e9 })).exact
    const among = solved(rate({ failures: 7, total: 1e9 })).exact
    expect(over.low / among.low).toBeCloseTo(1, 6)
    expect(over.high / among.high).toBeCloseTo(1, 6)
  })

  it('stays in order where the quantile changes its way of being worked out', () => {
    let before = 0
    for (let failures = 480; failures <= 520; failures++) {
      const { low, high } = solved(rate({ failures, exposure: 1 })).exact
      // Garwood's interval grows by about one for each failure.
      if (before > 0) expect(high - before).toBeCloseTo(1.04, 1)
      expect(low).toBeLessThan(failures)
      before = high
    }
  })
})

describe('rate at its edges', () => {
  it('no failures and nothing but failures have just 0 and just 1 as an end', () => {
    for (const total of [1, 3, 20, 1e9]) {
      const none = solved(rate({ failures: 0, total }))
      const all = solved(rate({ failures: total, total }))
      expect([none.rate, none.wilson!.low, none.exact.low]).toEqual([0, 0, 0])
      expect([all.rate, all.wilson!.high, all.exact.high]).toEqual([1, 1, 1])
    }
    expect(solved(rate({ failures: 0, exposure: 5 })).exact.low).toBe(0)
  })

  it('failures may exceed the exposure', () => {
    expect(solved(rate({ failures: 9, exposure: 0.5 })).rate).toBe(18)
  })

  it('answers at the edge of the ranges', () => {
    for (const input of [
      { failures: 1e9, total: 1e9 },
      { failures: 5e8, total: 1e9, confidence: 0.999_999 },
      { failures: 1e9, exposure: 1e9 },
      { failures: 1e9, exposure: 1e-9, confidence: 0.01 },
    ])
      expectWritable(solved(rate(input)))
  })

  it('refuses nothing to divide by, and a rate beyond every number, in words', () => {
    expectRefused(rate({ failures: 0, total: 0 }), 'too-few-points')
    expectRefused(rate({ failures: 0, exposure: 0 }), 'too-few-points')
    expectRefused(rate({ failures: 1, exposure: 5e-324 }), 'out-of-range')
  })

  it.each<[string, RateInput]>([
    ['neither', { failures: 1 }],
    ['both', { failures: 1, total: 2, exposure: 2 }],
    ['more failures than the total', { failures: 3, total: 2 }],
    ['half a failure', { failures: 0.5, total: 2 }],
    ['a failure less than none', { failures: -1, total: 2 }],
    ['half a total', { failures: 0, total: 2.5 }],
    ['a total that is none', { failures: 0, total: Number.NaN }],
    ['an exposure below 0', { failures: 0, exposure: -1 }],
    ['a confidence of 1', { failures: 0, total: 1, confidence: 1 }],
  ])('refuses %s as misuse', (_name, input) => {
    expect(() => rate(input)).toThrow(/^rate needs /)
  })
})
