/** Calendar dates in the zone of the shop; the only place where an instant becomes a day. */
import { Temporal } from 'temporal-polyfill'

/** The day (YYYY-MM-DD) that an instant falls on in this zone. */
export function shopDay(at: Date, zone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(zone).toPlainDate().toString()
}

/** The time of day (HH:MM) of an instant in this zone. */
export function shopTime(at: Date, zone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(zone).toPlainTime().toString({ smallestUnit: 'minute' })
}

/** A calendar date as the database client takes it for a date column, which has no time and no zone. */
export function dateColumn(day: string): Date {
  return new Date(`${day}T00:00:00.000Z`)
}

/** The calendar date that the database client read from a date column. */
export function fromDateColumn(column: Date): string {
  return column.toISOString().slice(0, 10)
}
