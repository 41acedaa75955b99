import { isCalendarDate } from '#core/calendar.ts'

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const

/**
 * A calendar date (YYYY-MM-DD) as a person writes it.
 *
 * @example dayInWords('2026-12-02') // '2 December 2026'
 *
 * Refuses (RangeError) anything that is not a date of the calendar. Common practice, no source.
 */
export function dayInWords(date: string): string {
  const { day, month, year } = partsOf(date)
  return `${day} ${month} ${year}`
}

/**
 * Two dates in one breath, leaving out what they share.
 *
 * @example twoDaysInWords('measured', '2026-12-02', 'issued', '2026-12-03') // 'measured 2, issued 3 December 2026'
 *
 * Refuses as dayInWords does.
 */
export function twoDaysInWords(firstDid: string, first: string, thenDid: string, then: string): string {
  const a = partsOf(first)
  const b = partsOf(then)
  if (first === then) return `${firstDid} and ${thenDid} ${dayInWords(first)}`
  const sameYear = a.year === b.year
  const short = sameYear && a.month === b.month ? `${a.day}` : sameYear ? `${a.day} ${a.month}` : dayInWords(first)
  return `${firstDid} ${short}, ${thenDid} ${dayInWords(then)}`
}

/**
 * A day without its year where that is the year spoken of anyway.
 *
 * @example dayBeside('2026-10-14', '2026-12-03') // '14 October'
 *
 * Refuses as dayInWords does.
 */
export function dayBeside(date: string, spokenOf: string): string {
  const { day, month, year } = partsOf(date)
  return year === partsOf(spokenOf).year ? `${day} ${month}` : dayInWords(date)
}

/**
 * A month (YYYY-MM) as a person writes it.
 *
 * @example monthInWords('2026-11') // 'November 2026'
 *
 * Refuses as dayInWords does.
 */
export function monthInWords(yearAndMonth: string): string {
  const { month, year } = partsOf(`${yearAndMonth}-01`)
  return `${month} ${year}`
}

function partsOf(date: string): { day: number; month: string; year: string } {
  if (!isCalendarDate(date)) throw new RangeError('dayInWords needs a date of the calendar, as 2026-11-24')
  const [year, month, day] = date.split('-')
  return { day: Number(day), month: MONTHS[Number(month) - 1]!, year: year! }
}
