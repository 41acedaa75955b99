import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type BudgetInput, budgetParts, expandedAtTwo } from '#core/bench/budget.ts'
import { doubt } from '#core/doubt.ts'
import { GIVE_OR_TAKE } from '#core/runout-verdict.ts'

const AS_USUAL: BudgetInput = { dial: { stepMm: 0.01 }, dialMm: 32, supportsApartMm: 80, support: 'bare-seats', surface: 'plain' }
const worth = (input: Partial<BudgetInput>) => expandedAtTwo(budgetParts({ ...AS_USUAL, ...input }))

describe('what a full swing is worth', () => {
  // The table of the trade (common practice, computed from the usual errors): ±0.008, ±0.017, ±0.005 at k = 2.
  it.each(GIVE_OR_TAKE)(
    'comes to the figure of the table for a dial of $dialStepMm on $support',
    ({ dialStepMm, support, giveOrTakeMm }) => {
      expect(Math.abs(worth({ dial: { stepMm: dialStepMm }, support }) - giveOrTakeMm)).toBeLessThan(0.0005)
    },
  )

  it('is the doubt sum of the same parts, k = 2, to the last digits', () => {
    const parts = budgetParts({ ...AS_USUAL, support: 'bearings' })
    const sum = doubt({ parts, k: 2 })
    expect(sum.ok && sum.value.expanded).toBeCloseTo(expandedAtTwo(parts), 12)
  })

  it('grows with the lever: a dial further out on bearings is worth less', () => {
    expect(worth({ support: 'bearings', dialMm: 60 })).toBeGreaterThan(worth({ support: 'bearings', dialMm: 30 }))
  })

  it('a taper adds its part, 1:5 more than 1:10: 0.05 of wander reads 0.005 and 0.0025 (computed; the handbooks’ figure)', () => {
    const part = (taper: number) => budgetParts({ ...AS_USUAL, surface: 'taper', taper }).find(({ name }) => name.includes('taper'))!.value
    expect(2 * part(5)).toBeCloseTo(0.005, 12)
    expect(2 * part(10)).toBeCloseTo(0.0025, 12)
  })

  it('a register entry stands before the usual figure', () => {
    expect(worth({ dial: { stepMm: 0.01, errorMm: 0.001, retraceMm: 0.001, repeatMm: 0.001 } })).toBeLessThan(worth({}))
    expect(worth({ dial: { stepMm: 0.01, errorMm: 0.02 } })).toBeGreaterThan(worth({}))
  })

  it('sets that were repeated bring their own spread, known with one degree of freedom less than there are sets', () => {
    const part = budgetParts({ ...AS_USUAL, repeats: 3, spreadMm: 0.004 }).find(({ name }) => name === 'repeat')
    expect(part).toEqual({ name: 'repeat', shape: 'normal', value: 0.004, sensitivity: 1 / Math.sqrt(3), degreesOfFreedom: 2 })
  })

  it('never falls when any part grows', () => {
    const mm = fc.double({ min: 0, max: 0.05, noNaN: true })
    fc.assert(
      fc.property(mm, mm, mm, fc.double({ min: 0, max: 0.05, noNaN: true }), (errorMm, retraceMm, repeatMm, more) => {
        const dial = { stepMm: 0.01, errorMm, retraceMm, repeatMm }
        expect(worth({ dial: { ...dial, errorMm: errorMm + more } })).toBeGreaterThanOrEqual(worth({ dial }))
      }),
    )
  })

  it.each([[{ dial: { stepMm: 0 } }], [{ dialMm: 0 }], [{ supportsApartMm: 0 }], [{ repeats: 0 }], [{ taper: Number.NaN }]])(
    'refuses %o',
    (wrong) => {
      expect(() => budgetParts({ ...AS_USUAL, ...wrong })).toThrow(RangeError)
    },
  )
})
