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

function partsOf(date: string): { day: number; month: string; year: string } {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date)
  const [year, monthNumber, day] = [found?.[1], Number(found?.[2]), Number(found?.[3])]
  const month = MONTHS[monthNumber - 1]
  const exists = year !== undefined && month !== undefined && day >= 1 && day <= daysIn(Number(year), monthNumber)
  if (!exists) throw new RangeError('dayInWords needs a date of the calendar, as 2026-11-24')
  return { day, month, year }
}

function daysIn(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28
  return [4, 6, 9, 11].includes(month) ? 30 : 31
}
