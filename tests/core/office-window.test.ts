import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { daysBetween } from '#core/calendar.ts'
import {
  dayAfter,
  isoWeek,
  mondayOf,
  monthsFromTo,
  officeWindow,
  stretchEnd,
  stretchStart,
  weekday,
  yearBefore,
} from '#core/office-window.ts'

const day = fc.integer({ min: -20_000, max: 40_000 }).map((days) => dayAfter('1990-01-01', days))

describe('weeks', () => {
  // ISO 8601 as set out in calendars of these years: week 53 of 2020 and 2026, week 1 on 4 January.
  test.each([
    ['2026-11-24', '2026-W48'],
    ['2026-12-31', '2026-W53'],
    ['2027-01-03', '2026-W53'],
    ['2027-01-04', '2027-W01'],
    ['2021-01-03', '2020-W53'],
    ['2018-12-31', '2019-W01'],
    ['2024-12-30', '2025-W01'],
  ])('%s is in %s', (date, week) => expect(isoWeek(date)).toBe(week))

  test('a Monday is at most six days back, and the days of one week have one number', () => {
    fc.assert(
      fc.property(day, (date) => {
        const monday = mondayOf(date)
        expect(new Date(`${monday}T00:00:00Z`).getUTCDay()).toBe(1)
        expect(daysBetween(monday, date)).toBe(weekday(date))
        expect(isoWeek(date)).toBe(isoWeek(monday))
        expect(isoWeek(dayAfter(monday, 7))).not.toBe(isoWeek(date))
      }),
    )
  })
})

describe('stretches', () => {
  test('follow one another without gap, and end with a Sunday or a month', () => {
    fc.assert(
      fc.property(day, (date) => {
        const [start, end] = [stretchStart(date), stretchEnd(date)]
        expect(start <= date && date <= end).toBe(true)
        expect(stretchStart(dayAfter(end, 1))).toBe(dayAfter(end, 1))
        expect(stretchEnd(dayAfter(start, -1))).toBe(dayAfter(start, -1))
        expect(weekday(end) === 6 || dayAfter(end, 1).endsWith('-01')).toBe(true)
      }),
    )
  })

  test('a window of whole weeks and one of whole months stay as they are asked for', () => {
    expect(officeWindow({ today: '2026-11-24', from: '2026-11-02', to: '2026-11-15' })).toEqual({ from: '2026-11-02', to: '2026-11-15' })
    expect(officeWindow({ today: '2026-11-24', from: '2026-02-01', to: '2026-02-28' })).toEqual({ from: '2026-02-01', to: '2026-02-28' })
    expect(officeWindow({ today: '2026-11-24', from: '2026-11-04', to: '2026-11-18' })).toEqual({ from: '2026-11-02', to: '2026-11-22' })
  })

  test('a year before, and months across a new year', () => {
    expect(yearBefore('2028-02-29')).toBe('2027-02-28')
    expect(monthsFromTo('2026-11-30', '2026-11-01')).toEqual(['2026-11'])
    expect(monthsFromTo('2026-12-01', '2026-11-30')).toEqual([])
  })

  test('refuses days that do not exist', () => {
    expect(() => stretchStart('2026-02-30')).toThrow('the office needs calendar dates that exist')
    expect(() => yearBefore('24 November')).toThrow(RangeError)
    expect(() => dayAfter('2026-11-24', 0.5)).toThrow('dayAfter needs whole days')
  })
})
