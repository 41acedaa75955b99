import { describe, expect, test } from 'vitest'
import { daysBetween } from '#core/calendar.ts'
import { CALL_FROM_DAYS, CALL_UNTIL_DAYS, callDays, isCallDue } from '#core/comeback-calls.ts'

// The rule is the shop's own (common practice, no source): three weeks to four months after going home, once.
const TODAY = '2026-11-24'
const quiet = { today: TODAY, kind: 'rebuild', heardSince: false, hereAgain: false } as const

describe('who is to be rung', () => {
  test('from the 21st to the 120th day, both among them', () => {
    const { from, until } = callDays(TODAY)
    expect([daysBetween(from, TODAY), daysBetween(until, TODAY)]).toEqual([CALL_UNTIL_DAYS, CALL_FROM_DAYS])
    expect([from, until].map((goneOn) => isCallDue({ ...quiet, goneOn }))).toEqual([true, true])
    expect(['2026-07-26', '2026-11-04'].map((goneOn) => isCallDue({ ...quiet, goneOn }))).toEqual([false, false])
  })

  test('nobody of whom something was heard, whose crank is here again, or on whose crank nothing was built', () => {
    const goneOn = '2026-10-01'
    expect(isCallDue({ ...quiet, goneOn })).toBe(true)
    expect(isCallDue({ ...quiet, goneOn, kind: 'true-only' })).toBe(true)
    for (const but of [{ heardSince: true }, { hereAgain: true }, { kind: 'check-and-report' as const }])
      expect(isCallDue({ ...quiet, goneOn, ...but })).toBe(false)
  })

  test('refuses a day that does not exist', () => {
    expect(() => callDays('2026-02-30')).toThrow(RangeError)
    expect(() => isCallDue({ ...quiet, goneOn: '2026-02-30' })).toThrow(RangeError)
  })
})
