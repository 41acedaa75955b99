import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type WidthInput, width } from '#core/width.ts'

// Stack of 55 mm; sources: sums on paper, shown beside each.
const STACK: WidthInput = {
  webLeftMm: 17.5,
  webRightMm: 17.45,
  rodWidthMm: 18.05,
  washersMm: [1, 1],
  clearance: { minMm: 0.4, maxMm: 0.7 },
  width: { minMm: 55.5, maxMm: 55.8 },
}

const length = fc.integer({ min: 0, max: 60_000 }).map((micrometres) => micrometres / 1000)
const window = fc.tuple(length, length).map(([one, other]) => ({ minMm: Math.min(one, other), maxMm: Math.max(one, other) }))
const inputs: fc.Arbitrary<WidthInput> = fc.record({
  webLeftMm: length,
  webRightMm: length,
  rodWidthMm: length,
  washersMm: fc.array(length, { maxLength: 3 }),
  clearance: window,
  width: window,
})

describe('width', () => {
  it('meets both windows: 55 + 0.4 to 55 + 0.7 against 55.5 to 55.8 leaves 55.5 to 55.7, aim 55.6', () => {
    const answer = width({ ...STACK, widthNowMm: 55.66 })
    expect(answer.stackMm).toBeCloseTo(55, 12)
    expect(answer.window).toEqual({ minMm: 55.5, maxMm: expect.closeTo(55.7, 12) })
    expect(answer.aim).toEqual({ widthMm: expect.closeTo(55.6, 12), clearanceMm: expect.closeTo(0.6, 12) })
    expect(answer.possible).toBe(true)
    expect(answer.clearanceNowMm).toBeCloseTo(0.66, 12)
    expect(answer.toGoMm).toBeCloseTo(0.06, 12)
  })

  it('says when it is pressed too far: less than 0 to go', () => {
    expect(width({ ...STACK, widthNowMm: 55.55 }).toGoMm).toBeCloseTo(-0.05, 12)
  })

  it('says null, and no aim, when no width meets both', () => {
    const answer = width({ ...STACK, width: { minMm: 55.8, maxMm: 55.9 }, widthNowMm: 55.66 })
    expect(answer).toMatchObject({ window: null, possible: false, clearanceNowMm: expect.closeTo(0.66, 12) })
    expect(answer).not.toHaveProperty('aim')
    expect(answer).not.toHaveProperty('toGoMm')
  })

  it('lets windows meet in one decimal figure that binary fractions miss', () => {
    // 17.1 + 17.1 + 18.1 + 0.7 is a hair under 53.0 where it is added in binary.
    const touching = width({
      webLeftMm: 17.1,
      webRightMm: 17.1,
      rodWidthMm: 18.1,
      washersMm: [],
      clearance: { minMm: 0.4, maxMm: 0.7 },
      width: { minMm: 53, maxMm: 54 },
    })
    expect(touching.possible).toBe(true)
    expect(touching.aim!.widthMm).toBeCloseTo(53, 9)
    const apart = width({
      webLeftMm: 17.1,
      webRightMm: 17.1,
      rodWidthMm: 18.1,
      washersMm: [],
      clearance: { minMm: 0.4, maxMm: 0.7 },
      width: { minMm: 53.0001, maxMm: 54 },
    })
    expect(apart.possible).toBe(false)
  })

  it('corrects the width as it measures for its warmth, and nothing else (60 mm, 40 K: 0.0276, from 11.5e-6 per K)', () => {
    const warm = width({ ...STACK, widthNowMm: 60.0276, partTemperatureC: 60 })
    expect(warm.clearanceNowMm! + warm.stackMm).toBeCloseTo(60, 9)
    expect(width({ ...STACK, widthNowMm: 60, partTemperatureC: 20 })).toEqual(width({ ...STACK, widthNowMm: 60 }))
    expect(width({ ...STACK, partTemperatureC: 60 })).toEqual(width(STACK))
  })

  it('has no clearance now, and nothing to go, before it is measured', () => {
    const answer = width(STACK)
    expect(answer).not.toHaveProperty('clearanceNowMm')
    expect(answer).not.toHaveProperty('toGoMm')
  })

  it('takes a rod without washers', () => {
    expect(width({ ...STACK, washersMm: [] }).stackMm).toBeCloseTo(53, 12)
  })

  it('aims at a width that lies in both windows, whenever there is one', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const answer = width(input)
        const total = input.webLeftMm + input.webRightMm + input.rodWidthMm + input.washersMm.reduce((sum, washer) => sum + washer, 0)
        expect(answer.stackMm).toBeCloseTo(total, 9)
        const least = Math.max(input.width.minMm, total + input.clearance.minMm)
        const most = Math.min(input.width.maxMm, total + input.clearance.maxMm)
        if (most - least > 1e-6) expect(answer.possible).toBe(true)
        if (most - least < -1e-6) expect(answer.possible).toBe(false)
        if (answer.aim === undefined) return
        expect(answer.aim.widthMm).toBeGreaterThanOrEqual(input.width.minMm - 1e-6)
        expect(answer.aim.widthMm).toBeLessThanOrEqual(input.width.maxMm + 1e-6)
        expect(answer.aim.clearanceMm).toBeGreaterThanOrEqual(input.clearance.minMm - 1e-6)
        expect(answer.aim.clearanceMm).toBeLessThanOrEqual(input.clearance.maxMm + 1e-6)
        expect(answer.aim.widthMm - answer.window!.minMm).toBeCloseTo(answer.window!.maxMm - answer.aim.widthMm, 9)
      }),
    )
  })

  it.each<[string, Partial<WidthInput>]>([
    ['a web less than nothing', { webLeftMm: -0.1 }],
    ['a rod that is no number', { rodWidthMm: Number.NaN }],
    ['a washer that is no number', { washersMm: [1, Number.POSITIVE_INFINITY] }],
    ['a clearance the wrong way round', { clearance: { minMm: 0.7, maxMm: 0.4 } }],
    ['a width the wrong way round', { width: { minMm: 56, maxMm: 55 } }],
    ['a part at absolute zero', { widthNowMm: 55, partTemperatureC: -273 }],
  ])('refuses %s', (_name, part) => {
    expect(() => width({ ...STACK, ...part })).toThrow(/^width needs /)
  })
})
