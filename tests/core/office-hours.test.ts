import { describe, expect, test } from 'vitest'
import { expectedHours, hoursLeftThisWeek } from '#core/office-hours.ts'

describe('expectedHours', () => {
  test('the engine’s own where there are three, else the shop’s, else the aim', () => {
    expect(expectedHours({ ofEngine: [4, 2, 3, 9], ofShop: [1, 1, 1], aimHours: 1.8 })).toEqual({ hours: 3.5, basis: 'engine' })
    expect(expectedHours({ ofEngine: [4, 2], ofShop: [1, 5, 2], aimHours: 1.8 })).toEqual({ hours: 2, basis: 'shop' })
    expect(expectedHours({ ofEngine: [], ofShop: [1, 5], aimHours: 1.8 })).toEqual({ hours: 1.8, basis: 'aim' })
  })

  test('refuses hours of 0 or below', () => {
    expect(() => expectedHours({ ofEngine: [0], ofShop: [], aimHours: 1.8 })).toThrow('expectedHours needs hours over 0')
  })
})

describe('hoursLeftThisWeek', () => {
  test.each([
    ['Monday, nothing clocked', '2026-11-23', 0, 32],
    ['Monday, two hours clocked', '2026-11-23', 2, 30],
    ['Tuesday, nothing clocked: Monday is gone', '2026-11-24', 0, 25.6],
    ['Friday', '2026-11-27', 20, 6.4],
    ['Friday, nearly all clocked', '2026-11-27', 30, 2],
    ['more clocked than a week has', '2026-11-25', 40, 0],
    ['Saturday', '2026-11-28', 0, 0],
    ['Sunday', '2026-11-29', 0, 0],
  ])('%s', (_what, today, clockedHours, left) => {
    expect(hoursLeftThisWeek({ weekHours: 32, clockedHours, today })).toBeCloseTo(left, 12)
  })

  test('refuses hours below 0', () => {
    expect(() => hoursLeftThisWeek({ weekHours: 32, clockedHours: -1, today: '2026-11-24' })).toThrow(
      'hoursLeftThisWeek needs hours of 0 or more',
    )
  })
})
