import { describe, expect, test } from 'vitest'
import { owesMinor } from '#core/owes.ts'

const NOTHING = { deposits: [], payments: [], givenBack: [] }

describe('what is owed', () => {
  test.each([
    ['nothing agreed', { agreedMinor: null, ...NOTHING }, null],
    ['nothing agreed, deposit taken', { agreedMinor: null, ...NOTHING, deposits: [5000] }, null],
    ['agreed', { agreedMinor: 26_800, ...NOTHING }, 26_800],
    ['deposit taken', { agreedMinor: 26_800, deposits: [10_000], payments: [], givenBack: [] }, 16_800],
    ['paid', { agreedMinor: 26_800, deposits: [10_000], payments: [16_000, 800], givenBack: [] }, 0],
    ['paid and some of it given back', { agreedMinor: 26_800, deposits: [], payments: [26_800], givenBack: [3000] }, 3000],
    ['paid too much', { agreedMinor: 26_800, deposits: [], payments: [30_000], givenBack: [] }, 0],
  ])('%s', (_what, money, owed) => {
    expect(owesMinor(money)).toBe(owed)
  })

  test('refuses amounts that are not whole, or below 0', () => {
    expect(() => owesMinor({ agreedMinor: 100.5, ...NOTHING })).toThrow('owesMinor needs whole amounts of 0 or more')
    expect(() => owesMinor({ agreedMinor: 100, ...NOTHING, payments: [-1] })).toThrow(RangeError)
    expect(() => owesMinor({ agreedMinor: null, ...NOTHING, deposits: [Number.NaN] })).toThrow(RangeError)
  })
})
