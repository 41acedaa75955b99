import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type ChartInput, chart } from '#core/chart.ts'
import { expectNear, expectRefused, expectWritable, solved, type VectorRow } from '#tests/core/near.ts'
import vectors from '#tests/vectors/chart.json' with { type: 'json' }

const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 2, maxLength: 40 })

describe('chart', () => {
  it.each(vectors as unknown as VectorRow<ChartInput>[])('$name ($source, $status)', ({ input, expected, tolerance }) => {
    expectNear(solved(chart(input)), expected, tolerance)
  })

  it('goes with shift and scale, and names just those outside', () => {
    fc.assert(
      fc.property(
        values,
        fc.double({ min: -1000, max: 1000, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (list, shift, scale) => {
          const one = solved(chart({ values: list, upperLimit: 10 }))
          const other = solved(chart({ values: list.map((value) => value * scale + shift) }))
          expectWritable(one)
          expect(other.centre).toBeCloseTo(one.centre * scale + shift, 3)
          expect(other.sigma).toBeCloseTo(one.sigma * scale, 3)
          expect(one.upper - one.centre).toBeCloseTo(one.centre - one.lower, 6)
          for (const [index, value] of list.entries()) expect(one.outside.includes(index)).toBe(value > one.upper || value < one.lower)
        },
      ),
    )
  })

  it('the order of the values matters to the moving range', () => {
    expect(solved(chart({ values: [1, 2, 3, 4] })).averageMovingRange).toBe(1)
    expect(solved(chart({ values: [1, 4, 2, 3] })).averageMovingRange).toBe(2)
  })

  it('has a capability below 0 when the centre is over the limit, and none without a limit', () => {
    expect(solved(chart({ values: [10, 12], upperLimit: 9 })).capability).toBeCloseTo((9 - 11) / (3 * (2 / 1.128)), 12)
    expect(solved(chart({ values: [10, 12] }))).not.toHaveProperty('capability')
  })

  it.each([0.1, 0, -7.3, 1e9])('values all %s: bounds at the value, nothing outside, no capability', (value) => {
    const answer = solved(chart({ values: [value, value, value, value, value, value], upperLimit: 20 }))
    expect(answer).toEqual({
      centre: value,
      upper: value,
      lower: value,
      averageMovingRange: 0,
      sigma: 0,
      outside: [],
      method: answer.method,
    })
  })

  it('scatter too small to divide by leaves the capability out', () => {
    expect(solved(chart({ values: [0, 5e-324], upperLimit: 1 }))).not.toHaveProperty('capability')
  })

  it('takes ten thousand values', () => {
    const answer = solved(chart({ values: Array.from({ length: 10_000 }, (_, index) => (index % 2) * 1e9) }))
    expect(answer.averageMovingRange).toBe(1e9)
  })

  it('refuses fewer than two values in words, and what is no value as misuse', () => {
    expectRefused(chart({ values: [] }), 'too-few-points')
    expectRefused(chart({ values: [5] }), 'too-few-points')
    for (const input of [{ values: [1, Number.NaN] }, { values: [1, 2e9] }, { values: [1, 2], upperLimit: Number.NaN }])
      expect(() => chart(input)).toThrow(/^chart needs /)
    expect(() => chart({ values: new Array(10_001).fill(1) })).toThrow(/^chart needs no more than 10000 values/)
  })
})
