import { describe, expect, it } from 'vitest'
import { webLife } from '#core/web-life.ts'

const SCRAP = { scrapFloorMm: 0.077 }

describe('the life of a web by a line', () => {
  it('is a least-squares line of fit on pressings (NIST StRD Norris checks the line itself)', () => {
    const fits = [
      { pressings: 1, interferenceMm: 0.112 },
      { pressings: 2, interferenceMm: 0.109 },
      { pressings: 3, interferenceMm: 0.108 },
      { pressings: 5, interferenceMm: 0.103 },
    ]
    const life = webLife({ fits, ...SCRAP, shopFloorMm: 0.1 })
    // By hand: mean x 2.75, mean y 0.108; slope = −0.019/8.75.
    expect(life.slopeMm).toBeCloseTo(-0.019 / 8.75, 9)
    expect(life).toMatchObject({ basis: 'line', count: 4, lastMm: 0.103 })
    // At 5 pressings the line stands at 0.10311: 0.00311 over the floor of the shop is one pressing, 0.02611 over scrap is 12.
    expect(life.untilShopFloor).toEqual({ low: 1, high: 1 })
    expect(life.untilScrapFloor?.low).toBeLessThanOrEqual(12)
    expect(life.untilScrapFloor?.high).toBeGreaterThanOrEqual(12)
  })

  it('that loses nothing foretells no end', () => {
    const fits = [1, 2, 3].map((pressings) => ({ pressings, interferenceMm: 0.11 }))
    const life = webLife({ fits, ...SCRAP })
    expect(life).toMatchObject({ basis: 'line', slopeMm: 0 })
    expect(life).not.toHaveProperty('untilScrapFloor')
  })

  it('that scatters more than it falls has no upper end', () => {
    const fits = [0.11, 0.095, 0.108, 0.1].map((interferenceMm, at) => ({ pressings: at + 1, interferenceMm }))
    const { untilScrapFloor } = webLife({ fits, ...SCRAP })
    expect(untilScrapFloor?.low).toBeGreaterThan(0)
    expect(untilScrapFloor).not.toHaveProperty('high')
  })

  it('takes the fits in any order, and needs three different counts of pressings', () => {
    const fits = [
      { pressings: 3, interferenceMm: 0.104 },
      { pressings: 1, interferenceMm: 0.11 },
      { pressings: 2, interferenceMm: 0.107 },
    ]
    expect(webLife({ fits, ...SCRAP })).toMatchObject({ basis: 'line', lastMm: 0.104, untilScrapFloor: { low: 9, high: 9 } })
    const twice = [fits[1]!, fits[1]!, fits[2]!]
    expect(webLife({ fits: twice, ...SCRAP }).basis).toBe('working-figures')
  })
})

// 0.002 to 0.004 for the first re-press, 0.001 to 0.002 later: from memory.
describe('the life of a web by the working figures', () => {
  it('counts the first re-press dearer than the later ones', () => {
    const first = webLife({ fits: [{ pressings: 1, interferenceMm: 0.087 }], ...SCRAP })
    // 0.010 over: at worst 0.004 and then 0.002 each, four in all; at best 0.002 and then 0.001 each, nine in all.
    expect(first).toMatchObject({ basis: 'working-figures', count: 1, untilScrapFloor: { low: 4, high: 9 } })
    const later = webLife({ fits: [{ pressings: 2, interferenceMm: 0.087 }], ...SCRAP })
    expect(later.untilScrapFloor).toEqual({ low: 5, high: 10 })
    expect(later).not.toHaveProperty('slopeMm')
  })

  it('says none where the fit stands at the floor or is under it', () => {
    expect(webLife({ fits: [{ pressings: 2, interferenceMm: 0.077 }], ...SCRAP }).untilScrapFloor).toEqual({ low: 0, high: 0 })
    expect(webLife({ fits: [{ pressings: 2, interferenceMm: 0.06 }], ...SCRAP }).untilScrapFloor).toEqual({ low: 0, high: 0 })
    expect(webLife({ fits: [{ pressings: 1, interferenceMm: 0.1 }], ...SCRAP, shopFloorMm: 0.1 }).untilShopFloor).toEqual({
      low: 0,
      high: 0,
    })
  })
})

it('without a fit says that nothing is known', () => {
  expect(webLife({ fits: [], ...SCRAP })).toMatchObject({ basis: 'nothing', count: 0 })
})

it('refuses what is no number', () => {
  expect(() => webLife({ fits: [{ pressings: 1.5, interferenceMm: 0.1 }], ...SCRAP })).toThrow(RangeError)
  expect(() => webLife({ fits: [{ pressings: 1, interferenceMm: Number.NaN }], ...SCRAP })).toThrow(RangeError)
})
