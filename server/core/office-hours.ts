import { percentile } from '#core/flow.ts'
import { weekday } from '#core/office-window.ts'

/** Where the expected hours of a crank are from. */
export const HOUR_BASES = ['engine', 'shop', 'aim'] as const
export type HourBasis = (typeof HOUR_BASES)[number]

/** The last so many cranks say what the next one takes. Common practice, no source. */
export const LAST_CRANKS = 10
/** Fewer of one engine say nothing yet, and the shop's are taken. Common practice, no source. */
export const LEAST_CRANKS = 3
const BENCH_DAYS = 5

/**
 * The bench hours that a crank of this engine and kind takes: the median of the last ones of the engine where there are
 * three at least, else of the shop, else what the shop aims at.
 *
 * Hours over 0; refuses (RangeError) others. Source: common practice, no source.
 *
 * @example expectedHours({ ofEngine: [2, 9, 3], ofShop: [5, 5, 5], aimHours: 1.8 }) // { hours: 3, basis: 'engine' }
 * @example expectedHours({ ofEngine: [2], ofShop: [5, 6, 7], aimHours: 1.8 }) // { hours: 6, basis: 'shop' }
 */
export function expectedHours(known: { ofEngine: readonly number[]; ofShop: readonly number[]; aimHours: number }): {
  hours: number
  basis: HourBasis
} {
  const { ofEngine, ofShop, aimHours } = known
  if ([...ofEngine, ...ofShop, aimHours].some((hours) => !(Number.isFinite(hours) && hours > 0)))
    throw new RangeError('expectedHours needs hours over 0')
  if (ofEngine.length >= LEAST_CRANKS) return { hours: medianOf(ofEngine), basis: 'engine' }
  if (ofShop.length >= LEAST_CRANKS) return { hours: medianOf(ofShop), basis: 'shop' }
  return { hours: aimHours, basis: 'aim' }
}

/**
 * Bench hours that are left of this week: those of a whole week less what is clocked since Monday, but no more than a fifth
 * of a week for each day from today to Friday; none at a weekend.
 *
 * Hours of 0 or more, today YYYY-MM-DD; refuses (RangeError) others. Source: common practice, no source.
 *
 * @example hoursLeftThisWeek({ weekHours: 32, clockedHours: 13, today: '2026-11-24' }) // 19
 * @example hoursLeftThisWeek({ weekHours: 32, clockedHours: 13, today: '2026-11-27' }) // 6.4
 */
export function hoursLeftThisWeek(week: { weekHours: number; clockedHours: number; today: string }): number {
  const { weekHours, clockedHours, today } = week
  if (![weekHours, clockedHours].every((hours) => Number.isFinite(hours) && hours >= 0))
    throw new RangeError('hoursLeftThisWeek needs hours of 0 or more')
  const daysLeft = Math.max(0, BENCH_DAYS - weekday(today))
  return Math.max(0, Math.min(weekHours - clockedHours, (weekHours * daysLeft) / BENCH_DAYS))
}

function medianOf(hours: readonly number[]): number {
  return percentile(
    hours.map((value) => ({ value, count: 1 })),
    0.5,
  )!
}
