/** Calendar dates in the zone of the shop; the only place where an instant becomes a day. */
import { Temporal } from 'temporal-polyfill'

const calendars = new Map<string, Intl.DateTimeFormat>()

/** The day (YYYY-MM-DD) that an instant falls on in this zone. */
export function shopDay(at: Date, zone: string): string {
  // Asked by nearly every request; Swedish writes a date as ISO 8601 does.
  const calendar = calendars.get(zone) ?? new Intl.DateTimeFormat('sv-SE', { timeZone: zone, dateStyle: 'short' })
  calendars.set(zone, calendar)
  return calendar.format(at)
}

/** The time of day (HH:MM) of an instant in this zone. */
export function shopTime(at: Date, zone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(zone).toPlainTime().toString({ smallestUnit: 'minute' })
}

/** The first instant of a day (YYYY-MM-DD) in this zone. */
export function dayBegins(day: string, zone: string): Date {
  return new Date(Temporal.PlainDate.from(day).toZonedDateTime(zone).epochMilliseconds)
}

/** The last instant, not after this one, at which the clock on the shop's wall said so (HH:MM). A time that a change of clocks leaves out counts an hour later. */
export function lastTimeOfDay(at: Date, zone: string, time: string): Date {
  const now = Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(zone)
  const on = (day: Temporal.PlainDate) => day.toZonedDateTime({ timeZone: zone, plainTime: Temporal.PlainTime.from(time) })
  const today = on(now.toPlainDate())
  const last = Temporal.ZonedDateTime.compare(today, now) <= 0 ? today : on(now.toPlainDate().subtract({ days: 1 }))
  return new Date(last.epochMilliseconds)
}

/** A calendar date as the database client takes it for a date column, which has no time and no zone. */
export function dateColumn(day: string): Date {
  return new Date(`${day}T00:00:00.000Z`)
}

/** The calendar date that the database client read from a date column. */
export function fromDateColumn(column: Date): string {
  return column.toISOString().slice(0, 10)
}
