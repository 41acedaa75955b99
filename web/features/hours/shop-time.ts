import { dateIn, timeOfDay } from '#web/lib/format.ts'

const MINUTE_MS = 60_000
const DAY_MS = 86_400_000

/** Minutes by which the clock on the shop's wall is ahead of UTC at an instant. */
function aheadMs(zone: string, atMs: number): number {
  const wall = Date.parse(`${dateIn(zone, atMs)}T${timeOfDay(atMs, zone)}:00Z`)
  return wall - Math.floor(atMs / MINUTE_MS) * MINUTE_MS
}

/**
 * The instant (RFC 3339, UTC) at which the shop's wall shows this time on this day. An hour that the wall shows twice, when
 * the clocks go back, is taken the first time; one that it skips is taken as the wall would have shown it without the skip.
 *
 * Refuses (RangeError) what is not a date as 2026-11-24 and a time as 17:40.
 *
 * @example instantAt('Europe/Berlin', '2026-11-24', '18:00') // '2026-11-24T17:00:00.000Z'
 */
export function instantAt(zone: string, date: string, time: string): string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date) || !/^([01]\d|2[0-3]):[0-5]\d$/.test(time))
    throw new RangeError('instantAt needs a date and a time')
  const wall = Date.parse(`${date}T${time}:00Z`)
  if (Number.isNaN(wall)) throw new RangeError('instantAt needs a date that exists')
  const tries = [aheadMs(zone, wall - DAY_MS), aheadMs(zone, wall + DAY_MS)].map((ahead) => wall - ahead)
  const right = tries.filter((at) => at + aheadMs(zone, at) === wall)
  return new Date(right.length > 0 ? Math.min(...right) : tries[0]!).toISOString()
}

/** A time of day as somebody types it: `17:40`, `17.40`, `1740`, `9:05`; undefined where it is none. */
export function readTime(typed: string): string | undefined {
  const parts = /^(\d{1,2})[:.,h ]?(\d{2})$/.exec(typed.trim())
  const [hour, minute] = [Number(parts?.[1] ?? 99), Number(parts?.[2] ?? 99)]
  if (hour > 23 || minute > 59) return undefined
  return `${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`
}
