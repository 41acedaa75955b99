import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { quoteTotals } from '#core/money.ts'

describe('totals with tax', () => {
  test('the worked example: 343.33 at 20 % is 412.00', () => {
    expect(
      quoteTotals([
        { netMinor: 28_000, taxBasisPoints: 2000 },
        { netMinor: 6_333, taxBasisPoints: 2000 },
      ]),
    ).toEqual({
      netMinor: 34_333,
      taxMinor: 6_867,
      grossMinor: 41_200,
      byRate: [{ taxBasisPoints: 2000, netMinor: 34_333, taxMinor: 6_867 }],
    })
  })

  test('half a minor unit goes away from zero, on both sides of it', () => {
    // 5 % of 10 and of 30 is 0.5 and 1.5.
    expect(quoteTotals([{ netMinor: 10, taxBasisPoints: 500 }]).taxMinor).toBe(1)
    expect(quoteTotals([{ netMinor: 30, taxBasisPoints: 500 }]).taxMinor).toBe(2)
    expect(quoteTotals([{ netMinor: -10, taxBasisPoints: 500 }]).taxMinor).toBe(-1)
    expect(quoteTotals([{ netMinor: 9, taxBasisPoints: 500 }]).taxMinor).toBe(0)
  })

  test('is rounded once for each rate, not once a line', () => {
    // Three lines of 10 at 5 %: 1.5, so 2; line by line it would be 3.
    const line = { netMinor: 10, taxBasisPoints: 500 }
    expect(quoteTotals([line, line, line]).taxMinor).toBe(2)
  })

  test('rates stand apart, least first; no lines make nothing', () => {
    const totals = quoteTotals([
      { netMinor: 10_000, taxBasisPoints: 2000 },
      { netMinor: 5_000, taxBasisPoints: 0 },
      { netMinor: -1_000, taxBasisPoints: 2000 },
    ])
    expect(totals.byRate).toEqual([
      { taxBasisPoints: 0, netMinor: 5_000, taxMinor: 0 },
      { taxBasisPoints: 2000, netMinor: 9_000, taxMinor: 1_800 },
    ])
    expect(totals.grossMinor).toBe(15_800)
    expect(quoteTotals([])).toEqual({ netMinor: 0, taxMinor: 0, grossMinor: 0, byRate: [] })
  })

  test('holds beyond what a fraction could: 20 % of a great sum, exactly', () => {
    expect(quoteTotals([{ netMinor: 4_503_599_627_370_493, taxBasisPoints: 2000 }]).taxMinor).toBe(900_719_925_474_099)
  })

  test('order does not matter, taking it all back leaves nothing, gross is net and tax', () => {
    const line = fc.record({ netMinor: fc.integer({ min: -1e9, max: 1e9 }), taxBasisPoints: fc.integer({ min: 0, max: 10_000 }) })
    fc.assert(
      fc.property(fc.array(line, { maxLength: 20 }), (lines) => {
        const totals = quoteTotals(lines)
        expect(quoteTotals([...lines].reverse())).toEqual(totals)
        expect(totals.grossMinor).toBe(totals.netMinor + totals.taxMinor)
        const back = lines.map((one) => ({ ...one, netMinor: 0 - one.netMinor }))
        expect(quoteTotals([...lines, ...back]).grossMinor).toBe(0)
      }),
    )
  })

  test('refuses fractions, rates out of range, and sums that are not exact', () => {
    for (const netMinor of [1.5, Number.NaN, 2 ** 53]) {
      expect(() => quoteTotals([{ netMinor, taxBasisPoints: 2000 }])).toThrow('quoteTotals needs amounts in whole minor units')
    }
    for (const taxBasisPoints of [-1, 10_001, 17.5, Number.NaN]) {
      expect(() => quoteTotals([{ netMinor: 1, taxBasisPoints }])).toThrow(RangeError)
    }
    expect(() => quoteTotals([{ netMinor: 2 ** 53 - 1, taxBasisPoints: 2000 }])).toThrow('less than 2^53')
  })
})
