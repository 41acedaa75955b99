import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { containedTaxMinor } from '#core/contained-tax.ts'
import { quoteTotals } from '#core/money.ts'

describe('tax contained in an amount', () => {
  // Worked by hand: gross × rate ÷ (1 + rate).
  test.each([
    [12_000, 200, 2000],
    [26_800, 200, 4467], // 4466.67
    [1, 200, 0], // 0.1667
    [3, 200, 1], // exactly a half, up
    [11_900, 190, 1900],
    [10_000, 0, 0],
    [10_000, 1000, 5000],
    [0, 200, 0],
  ])('%i at %i thousandths is %i', (gross, rate, tax) => {
    expect(containedTaxMinor(gross, rate)).toBe(tax)
  })

  test('adding tax to what is left comes back to the amount, within a minor unit', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000_000 }), fc.integer({ min: 0, max: 1000 }), (gross, rate) => {
        const tax = containedTaxMinor(gross, rate)
        const { grossMinor } = quoteTotals([{ netMinor: gross - tax, taxBasisPoints: rate * 10 }])
        expect(Math.abs(grossMinor - gross)).toBeLessThanOrEqual(1)
      }),
    )
  })

  test('refuses what is not a whole amount or not a rate', () => {
    expect(() => containedTaxMinor(-1, 200)).toThrow('containedTaxMinor needs a whole amount of 0 or more')
    expect(() => containedTaxMinor(1.5, 200)).toThrow(RangeError)
    expect(() => containedTaxMinor(2 ** 53, 200)).toThrow(RangeError)
    expect(() => containedTaxMinor(100, 1001)).toThrow('containedTaxMinor needs a rate in whole thousandths from 0 to 1000')
    expect(() => containedTaxMinor(100, Number.NaN)).toThrow(RangeError)
  })
})
