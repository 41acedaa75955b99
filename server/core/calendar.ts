import { isEnd, type JobState } from '#core/steps.ts'

const CALENDAR_DATE = /^\d{4}-\d{2}-\d{2}$/
const MILLISECONDS_A_DAY = 86_400_000

/** Whether a text is a calendar date that exists, written YYYY-MM-DD. */
export function isCalendarDate(text: string): boolean {
  if (!CALENDAR_DATE.test(text)) return false
  const midnight = new Date(`${text}T00:00:00Z`)
  return !Number.isNaN(midnight.getTime()) && midnight.toISOString().startsWith(text)
}

/**
 * Whole days from one calendar date to another, below 0 where the second is the earlier. Calendar dates have no hours, so
 * that a change of the clocks between them changes nothing.
 *
 * Refuses (RangeError) a date that does not exist or is not written YYYY-MM-DD.
 * Source: the Gregorian calendar, carried back before it was in use (ISO 8601).
 *
 * @example daysBetween('2026-11-23', '2026-11-24') // 1
 */
export function daysBetween(from: string, to: string): number {
  return (midnightOf(to) - midnightOf(from)) / MILLISECONDS_A_DAY
}

/**
 * How many days a job is late; 0 when it is not. Late is a promise before today, in the zone of the shop, on a job that is
 * not signed yet. A job that is signed and not fetched is never late, and neither is one that is gone, given back or
 * scrapped, nor one without a promise.
 *
 * Dates YYYY-MM-DD; refuses (RangeError) others. Source: how the shop counts, decided once.
 *
 * @example daysLate({ promised: '2026-11-23', today: '2026-11-24', state: 'together' }) // 1
 */
export function daysLate(job: { promised: string | null; today: string; state: JobState }): number {
  const { promised, today, state } = job
  const late = promised === null ? 0 : daysBetween(promised, today)
  const isPastLateness = isEnd(state) || state === 'signed' || state === 'gone'
  return isPastLateness ? 0 : Math.max(0, late)
}

/**
 * Whether a job is late, by the rule of daysLate.
 *
 * @example isLate({ promised: '2026-11-23', today: '2026-11-24', state: 'signed' }) // false
 */
export function isLate(job: { promised: string | null; today: string; state: JobState }): boolean {
  return daysLate(job) > 0
}

function midnightOf(date: string): number {
  if (!isCalendarDate(date)) throw new RangeError('daysBetween needs calendar dates that exist, as 2026-11-24')
  return Date.parse(`${date}T00:00:00Z`)
}
