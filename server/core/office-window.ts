import { isCalendarDate } from '#core/calendar.ts'
import { COMEBACK_MONTHS } from '#core/comeback.ts'

/**
 * The weeks and months that the office counts by. Its sums are kept by stretches that end with every Sunday and with every
 * month, so that a window of whole weeks and a window of whole months are both sums of whole stretches.
 */

const MILLISECONDS_A_DAY = 86_400_000
/** 1970-01-01 was a Thursday; days are counted from it. */
const THURSDAY = 3

/**
 * The calendar date so many days after another, before it where below 0.
 *
 * @example dayAfter('2026-02-27', 2) // '2026-03-01'
 *
 * Refuses (RangeError) a date that does not exist and days that are not whole.
 */
export function dayAfter(date: string, days: number): string {
  if (!Number.isInteger(days)) throw new RangeError('dayAfter needs whole days')
  return dateOf(numberOf(date) + days)
}

/**
 * The Monday of the week that a day is in.
 *
 * @example mondayOf('2026-11-29') // '2026-11-23'
 *
 * Refuses (RangeError) a date that does not exist. Source: ISO 8601, weeks begin on Monday.
 */
export function mondayOf(date: string): string {
  return dayAfter(date, -weekday(date))
}

/**
 * The week of a day as ISO 8601 writes it: week 1 is the one with the first Thursday of the year.
 *
 * @example isoWeek('2027-01-01') // '2026-W53'
 *
 * Refuses (RangeError) a date that does not exist. Source: ISO 8601 (from memory).
 */
export function isoWeek(date: string): string {
  const thursday = dayAfter(mondayOf(date), 3)
  const year = thursday.slice(0, 4)
  const week = Math.floor((numberOf(thursday) - numberOf(`${year}-01-01`)) / 7) + 1
  return `${year}-W${String(week).padStart(2, '0')}`
}

/**
 * The first day of the stretch that a day is in: its Monday or the first of its month, whichever is later.
 *
 * @example stretchStart('2026-12-03') // '2026-12-01'
 * @example stretchStart('2026-12-08') // '2026-12-07'
 */
export function stretchStart(date: string): string {
  const monday = mondayOf(date)
  const first = `${date.slice(0, 8)}01`
  return monday > first ? monday : first
}

/**
 * The last day of the stretch that a day is in: its Sunday or the last of its month, whichever is earlier.
 *
 * @example stretchEnd('2026-11-24') // '2026-11-29'
 * @example stretchEnd('2026-11-30') // '2026-11-30'
 */
export function stretchEnd(date: string): string {
  const sunday = dayAfter(mondayOf(date), 6)
  return sunday.slice(0, 7) === date.slice(0, 7) ? sunday : dayAfter(`${sunday.slice(0, 8)}01`, -1)
}

/**
 * A year before a day: cranks that went home after it have not had their 12 months yet. From the 29th of February it is the
 * 28th.
 *
 * @example yearBefore('2026-11-24') // '2025-11-24'
 */
export function yearBefore(date: string): string {
  numberOf(date)
  const year = String(Number(date.slice(0, 4)) - COMEBACK_MONTHS / 12).padStart(4, '0')
  const same = `${year}${date.slice(4)}`
  return isCalendarDate(same) ? same : `${year}-02-28`
}

/**
 * The window that is counted: whole stretches that hold the days asked for, of the last 12 months unless said.
 *
 * @example officeWindow({ today: '2026-11-24' }) // { from: '2025-11-24', to: '2026-11-29' }
 * @example officeWindow({ today: '2026-11-24', from: '2026-11-01', to: '2026-11-30' }) // { from: '2026-11-01', to: '2026-11-30' }
 *
 * Refuses (RangeError) dates that do not exist. A window that ends before it begins holds nothing.
 */
export function officeWindow(asked: { today: string; from?: string | undefined; to?: string | undefined }): { from: string; to: string } {
  return { from: stretchStart(asked.from ?? yearBefore(asked.today)), to: stretchEnd(asked.to ?? asked.today) }
}

/**
 * The months from one day to another, both in, as YYYY-MM.
 *
 * @example monthsFromTo('2025-12-29', '2026-02-01') // ['2025-12', '2026-01', '2026-02']
 */
export function monthsFromTo(from: string, to: string): string[] {
  numberOf(from)
  numberOf(to)
  const index = (date: string) => Number(date.slice(0, 4)) * 12 + Number(date.slice(5, 7)) - 1
  return Array.from({ length: Math.max(0, index(to) - index(from) + 1) }, (_, place) => {
    const month = index(from) + place
    return `${String(Math.floor(month / 12)).padStart(4, '0')}-${String((month % 12) + 1).padStart(2, '0')}`
  })
}

/** Monday 0 to Sunday 6. */
export function weekday(date: string): number {
  return (((numberOf(date) + THURSDAY) % 7) + 7) % 7
}

function numberOf(date: string): number {
  if (!isCalendarDate(date)) throw new RangeError('the office needs calendar dates that exist, as 2026-11-24')
  return Date.parse(`${date}T00:00:00Z`) / MILLISECONDS_A_DAY
}

function dateOf(days: number): string {
  return new Date(days * MILLISECONDS_A_DAY).toISOString().slice(0, 10)
}
