/** The days and hours of the demo shop, in its own zone. Moments are milliseconds since 1970. */
import { Temporal } from 'temporal-polyfill'
import { shopDay } from '#server/plugins/shop-day.ts'

export const ZONE = 'Europe/Berlin'
export const CLOSING_TIME = '18:00'

export const MINUTE = 60_000
export const HOUR = 3_600_000
export const DAY = 24 * HOUR

const OPEN = [
  ['08:00', '12:00'],
  ['12:45', '17:30'],
] as const
const HOLIDAYS = ['01-01', '12-24', '12-25', '12-26', '12-31']

export interface Stretch {
  from: number
  until: number
}

export function dayOf(moment: number): string {
  return shopDay(new Date(moment), ZONE)
}

/** A time of day (HH:MM) on a day of the shop. */
export function momentOn(day: string, time: string): number {
  return Temporal.PlainDate.from(day).toZonedDateTime({ timeZone: ZONE, plainTime: Temporal.PlainTime.from(time) }).epochMilliseconds
}

export function daysAfter(day: string, days: number): string {
  return Temporal.PlainDate.from(day).add({ days }).toString()
}

function isShopDay(day: string): boolean {
  return Temporal.PlainDate.from(day).dayOfWeek <= 5 && !HOLIDAYS.includes(day.slice(5))
}

/** The shop day that lies so many shop days after a day, or before it where the number is below 0. */
export function shopDaysAfter(day: string, count: number): string {
  let found = day
  for (let left = Math.abs(count); left > 0; ) {
    found = daysAfter(found, Math.sign(count))
    if (isShopDay(found)) left -= 1
  }
  return found
}

/** The first shop day that is not before this day. */
export function shopDayFrom(day: string): string {
  return isShopDay(day) ? day : shopDaysAfter(day, 1)
}

const opened = new Map<string, readonly Stretch[]>()

/** When the shop is open on a day: morning and afternoon, or not at all. */
export function openOn(day: string): readonly Stretch[] {
  const known = opened.get(day)
  if (known !== undefined) return known
  const stretches = isShopDay(day) ? OPEN.map(([from, until]) => ({ from: momentOn(day, from), until: momentOn(day, until) })) : []
  opened.set(day, stretches)
  return stretches
}

export function isOpen(moment: number): boolean {
  return openOn(dayOf(moment)).some(({ from, until }) => from <= moment && moment < until)
}

/** Open hours from a moment on, without end. */
export function* openFrom(moment: number): Generator<Stretch> {
  for (let day = dayOf(moment); ; day = daysAfter(day, 1))
    for (const { from, until } of openOn(day)) if (until > moment) yield { from: Math.max(from, moment), until }
}

/** The moment by which the shop has been open for so many hours since another. */
export function openAfter(moment: number, hours: number): number {
  let left = hours * HOUR
  for (const { from, until } of openFrom(moment)) {
    if (left < until - from) return Math.round(from + left)
    left -= until - from
  }
  throw new Error('the shop never opens again')
}

/** The moment since which the shop has been open for so many hours, up to another. */
export function openBefore(moment: number, hours: number): number {
  let left = hours * HOUR
  for (let day = dayOf(moment); ; day = daysAfter(day, -1))
    for (const { from, until } of [...openOn(day)].reverse()) {
      const end = Math.min(until, moment)
      if (end <= from) continue
      if (left <= end - from) return Math.round(end - left)
      left -= end - from
    }
}
