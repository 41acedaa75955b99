import { describe, expect, test } from 'vitest'
import { A_WEEK, arrivals, shopDaysBetween } from '#seed/arrivals.ts'
import { chanceFrom } from '#seed/chance.ts'
import { isOpen } from '#seed/days.ts'
import { FAULT_MIX, faultsThatSwing, finished, gainsOf, scaled, shareOfLimit, worstSwing } from '#seed/faults.ts'
import { MODEL_SHEETS } from '#seed/model-sheets.ts'

const DRAWS = 20_000

function momentsOf(values: readonly number[]): { mean: number; variance: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  return { mean, variance: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1) }
}

describe('chance of the demo shop', () => {
  // Poisson: mean and variance are the same. Geometric from 1 on, with p = 1/mean: variance (1 − p)/p².
  test.each([0.4, 2, 9])('counts that come %s at a time', (mean) => {
    const chance = chanceFrom(1).of(`poisson ${mean}`)
    const found = momentsOf(Array.from({ length: DRAWS }, () => chance.poisson(mean)))
    expect(found.mean).toBeCloseTo(mean, 1)
    expect(found.variance / mean).toBeCloseTo(1, 1)
  })

  test.each([1, 3.4, 14])('counts from one on, %s on average', (mean) => {
    const chance = chanceFrom(1).of(`geometric ${mean}`)
    const counts = Array.from({ length: DRAWS }, () => chance.geometric(mean))
    const { mean: found, variance } = momentsOf(counts)
    expect(Math.min(...counts)).toBe(1)
    expect(found / mean).toBeCloseTo(1, 1)
    if (mean > 1) expect(variance / (mean * (mean - 1))).toBeCloseTo(1, 0)
  })

  test('shares sum to one, are what was asked for on average, and differ from crank to crank', () => {
    const chance = chanceFrom(2)
    const means = Object.values(FAULT_MIX)
    const drawn = Array.from({ length: DRAWS }, () => chance.shares(means, 2))
    for (const shares of drawn) expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12)
    means.forEach((mean, index) => {
      const found = momentsOf(drawn.map((shares) => shares[index]!))
      expect(found.mean).toBeCloseTo(mean, 2)
      // Dirichlet: variance m(1 − m)/(concentration + 1).
      expect(found.variance / ((mean * (1 - mean)) / 3)).toBeCloseTo(1, 0)
    })
  })

  test('another order has every thing once', () => {
    const things = Array.from({ length: 50 }, (_, index) => index)
    const order = chanceFrom(3).shuffled(things)
    expect(order).not.toEqual(things)
    expect(order.toSorted((one, other) => one - other)).toEqual(things)
  })

  test('cranks are booked in on shop days, in open hours, and by the season', () => {
    const days = shopDaysBetween('2020-01-02', '2029-12-30')
    const moments = arrivals(days, 4000, chanceFrom(4))
    expect(moments.every(isOpen)).toBe(true)
    expect(moments.every((moment, index) => moment >= (moments[index - 1] ?? 0))).toBe(true)
    expect(Math.abs(moments.length - 4000)).toBeLessThan(4 * Math.sqrt(4000))
    const inMonth = (month: number) => moments.filter((moment) => new Date(moment).getUTCMonth() === month).length
    const daysIn = (month: number) => days.filter((day) => Number(day.slice(5, 7)) === month + 1).length
    const weight = days.reduce((sum, day) => sum + A_WEEK[Number(day.slice(5, 7)) - 1]!, 0)
    A_WEEK.forEach((aWeek, month) => {
      const expected = (4000 * aWeek * daysIn(month)) / weight
      expect(Math.abs(inMonth(month) - expected)).toBeLessThan(4 * Math.sqrt(expected))
    })
  })
})

describe('cranks of the demo shop', () => {
  test.each(MODEL_SHEETS.map((sheet) => [sheet.code, sheet] as const))(
    '%s swings as much as it was drawn to, and is left under its limit',
    (_code, sheet) => {
      const chance = chanceFrom(5).of(sheet.code)
      const gain = gainsOf(sheet)
      for (let draw = 0; draw < 40; draw++) {
        const faults = faultsThatSwing(0.2, sheet, chance, true)
        expect(gain.swing).toBeGreaterThan(0)
        // Throw and cocked are cut down where it has to come true, so that it may swing a little less.
        expect(worstSwing(faults, sheet)).toBeLessThan(0.2 * 1.5)
        const inside = scaled(faults, 0.9 / shareOfLimit(faults, sheet))
        const left = finished(inside, sheet, chance)
        expect(left.throwMm).toBe(inside.throwMm)
        expect(left.cockedRad).toBe(inside.cockedRad)
        expect(shareOfLimit(left, sheet)).toBeLessThanOrEqual(1 + 1e-9)
      }
    },
  )
})
