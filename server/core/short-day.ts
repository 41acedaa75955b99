import { isCalendarDate } from '#core/calendar.ts'

const WEEKDAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'] as const
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const

/**
 * A calendar date as a line of a list says it: weekday, day and month, with the year where it is another than today's.
 *
 * @example shortDay('2026-11-23', '2026-11-24') // 'Mon 23 Nov'
 * @example shortDay('2025-11-24', '2026-11-24') // 'Mon 24 Nov 2025'
 *
 * Refuses (RangeError) dates that do not exist. Common practice, no source.
 */
export function shortDay(date: string, today: string): string {
  if (!isCalendarDate(date) || !isCalendarDate(today)) throw new RangeError('shortDay needs calendar dates that exist, as 2026-11-24')
  const at = new Date(`${date}T00:00:00Z`)
  const words = `${WEEKDAYS[at.getUTCDay()]} ${at.getUTCDate()} ${MONTHS[at.getUTCMonth()]}`
  return date.slice(0, 4) === today.slice(0, 4) ? words : `${words} ${date.slice(0, 4)}`
}
