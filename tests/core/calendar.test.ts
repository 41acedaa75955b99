import { describe, expect, test } from 'vitest'
import { daysBetween, daysLate, isCalendarDate, isLate } from '#core/calendar.ts'
import { ENDS, type JobState, STEPS } from '#core/steps.ts'
import vectors from '#tests/vectors/calendar-days.json' with { type: 'json' }

// The day from which Julian days are counted here: 17 November 1858 is 2 400 000.5.
const MODIFIED_JULIAN_ZERO = '1858-11-17'

describe('days between calendar dates', () => {
  test.each(vectors.julianDaysFrom1858)('$date is Julian day $julianDay (Meeus 1991, ch. 7)', ({ date, julianDay }) => {
    expect(daysBetween(MODIFIED_JULIAN_ZERO, date)).toBe(julianDay - 2_400_000.5)
  })

  test.each(vectors.intervals)('$from to $to is $days (Meeus 1991, ch. 7)', ({ from, to, days }) => {
    expect(daysBetween(from, to)).toBe(days)
    expect(daysBetween(to, from)).toBe(-days)
  })

  test('leap years, and a day is a day when the clocks change', () => {
    expect(daysBetween('2000-02-28', '2000-03-01')).toBe(2)
    expect(daysBetween('1900-02-28', '1900-03-01')).toBe(1)
    // The last Sundays of March and October.
    expect([daysBetween('2026-03-28', '2026-03-30'), daysBetween('2026-10-24', '2026-10-26')]).toEqual([2, 2])
    expect(daysBetween('2026-11-24', '2026-11-24')).toBe(0)
  })

  test.each(['2026-02-29', '2026-13-01', '2026-00-10', '26-11-24', '2026-11-24T00:00:00Z', '24.11.2026', ''])('%s is no date', (text) => {
    expect(isCalendarDate(text)).toBe(false)
    expect(() => daysBetween(text, '2026-11-24')).toThrow(RangeError)
    expect(() => daysBetween('2026-11-24', text)).toThrow(RangeError)
  })
})

describe('late', () => {
  const OPEN: JobState[] = ['booked', 'measured', 'agreed', 'apart', 'together', 'trued']

  test.each([...STEPS, ...ENDS])('promised yesterday and %s', (state) => {
    expect(isLate({ promised: '2026-11-23', today: '2026-11-24', state })).toBe(OPEN.includes(state))
  })

  test('promised today is not late yet; without a promise nothing is late', () => {
    expect(isLate({ promised: '2026-11-24', today: '2026-11-24', state: 'together' })).toBe(false)
    expect(isLate({ promised: null, today: '2026-11-24', state: 'together' })).toBe(false)
  })

  test('by how many days', () => {
    expect(daysLate({ promised: '2026-11-09', today: '2026-11-24', state: 'apart' })).toBe(15)
    expect(daysLate({ promised: '2026-11-09', today: '2026-11-24', state: 'signed' })).toBe(0)
    expect(daysLate({ promised: '2026-12-03', today: '2026-11-24', state: 'apart' })).toBe(0)
  })
})
