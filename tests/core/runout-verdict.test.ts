import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { giveOrTakeFor, isAtStatedPlace, isWithin, limitOutcome, runoutVerdict } from '#core/runout-verdict.ts'

describe('give-or-take until the doubt sum exists (computed table, common practice)', () => {
  test.each([
    [0.01, 'bare-seats', 0.008],
    [0.01, 'bearings', 0.017],
    [0.001, 'bare-seats', 0.005],
    // Between the rows: the coarser row; on bearings the ring decides.
    [0.002, 'bare-seats', 0.008],
    [0.0005, 'bare-seats', 0.005],
    [0.001, 'bearings', 0.017],
  ] as const)('a dial of %f on %s: %f', (instrumentStepMm, support, expected) => {
    expect(giveOrTakeFor({ instrumentStepMm, support })).toBe(expected)
  })

  test('a half-thou dial (0.0127) takes more than a hundredth one, in proportion', () => {
    expect(giveOrTakeFor({ instrumentStepMm: 0.0127, support: 'bare-seats' })).toBeCloseTo(0.01016, 12)
  })

  test('refuses a step that is none', () => {
    for (const instrumentStepMm of [0, -0.01, 0.11, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => giveOrTakeFor({ instrumentStepMm, support: 'bare-seats' })).toThrow(RangeError)
    }
  })
})

describe('the verdict of a certificate', () => {
  test('0.014 by a hundredth dial against 0.020 is in the doubt band', () => {
    const giveOrTakeMm = giveOrTakeFor({ instrumentStepMm: 0.01, support: 'bare-seats' })
    expect(runoutVerdict({ tirMm: 0.014, limitMm: 0.02, giveOrTakeMm })).toBe('in-the-doubt-band')
  })

  test.each([
    [0.012, 'within'],
    [0.01201, 'in-the-doubt-band'],
    [0.02, 'in-the-doubt-band'],
    [0.02001, 'over'],
    [0, 'within'],
  ] as const)('%f against 0.020, give or take 0.008: %s, unrounded', (tirMm, verdict) => {
    expect(runoutVerdict({ tirMm, limitMm: 0.02, giveOrTakeMm: 0.008 })).toBe(verdict)
  })

  test('a sum that misses the limit by a last binary digit is at the limit', () => {
    expect(0.01 + 0.008).toBeGreaterThan(0.018)
    expect(runoutVerdict({ tirMm: 0.01, limitMm: 0.018, giveOrTakeMm: 0.008 })).toBe('within')
    expect([isWithin(0.02, 0.02), isWithin(0.02001, 0.02)]).toEqual([true, false])
  })

  test('decides on hundred-thousandths as whole numbers would', () => {
    const length = fc.integer({ min: 0, max: 10_000 })
    fc.assert(
      fc.property(length, length, length, (tir, limit, giveOrTake) => {
        const whole = tir > limit ? 'over' : tir + giveOrTake <= limit ? 'within' : 'in-the-doubt-band'
        expect(runoutVerdict({ tirMm: tir / 1e5, limitMm: limit / 1e5, giveOrTakeMm: giveOrTake / 1e5 })).toBe(whole)
      }),
    )
  })

  test('refuses what is no length', () => {
    expect(() => runoutVerdict({ tirMm: Number.NaN, limitMm: 0.02, giveOrTakeMm: 0.008 })).toThrow(
      'runoutVerdict needs lengths of 0 mm or more',
    )
    expect(() => runoutVerdict({ tirMm: 0.01, limitMm: -0.02, giveOrTakeMm: 0.008 })).toThrow(RangeError)
  })
})

describe('between the limit of the house and the limit of the maker', () => {
  test.each([
    [0.02, 0.02, 0.03, 'inside-house'],
    [0.024, 0.02, 0.03, 'over-house-inside-maker'],
    [0.03, 0.02, 0.03, 'over-house-inside-maker'],
    [0.031, 0.02, 0.03, 'over-maker'],
    [0.024, 0.02, null, 'over-house'],
    [0.018, 0.02, null, 'inside-house'],
    // A house that is less strict than the maker does not hide the maker's limit.
    [0.018, 0.02, 0.015, 'over-maker'],
  ] as const)('%f, ours %f, the maker’s %s: %s', (tirMm, houseLimitMm, makerLimitMm, outcome) => {
    expect(limitOutcome({ tirMm, houseLimitMm, makerLimitMm })).toBe(outcome)
  })

  test('refuses what is no length', () => {
    expect(() => limitOutcome({ tirMm: 0.01, houseLimitMm: Number.NaN, makerLimitMm: null })).toThrow(RangeError)
    expect(() => limitOutcome({ tirMm: 0.01, houseLimitMm: 0.02, makerLimitMm: -1 })).toThrow(RangeError)
  })
})

describe('the stated place', () => {
  test.each([
    [45.3, 'rollers-bare', true],
    [45.5, 'v-blocks-bare', true],
    [44.5, 'v-blocks-bare', true],
    [45.51, 'v-blocks-bare', false],
    [-45, 'v-blocks-bare', false],
    [45, 'v-blocks-bearings', false],
    [45, 'centres', false],
  ] as const)('%f on %s against 45 on bare seats in V-blocks: %s', (readAtMm, readHeld, isThere) => {
    expect(isAtStatedPlace({ readAtMm, readHeld, limitAtMm: 45, limitHeld: 'v-blocks-bare' })).toBe(isThere)
  })

  test('refuses a place that is not a number', () => {
    expect(() => isAtStatedPlace({ readAtMm: Number.NaN, readHeld: 'cases', limitAtMm: 45, limitHeld: 'cases' })).toThrow(RangeError)
  })
})
