/** When the day of a clock ends, in the zone of the shop; nights when the clocks change are days like others there. */
import { Temporal } from 'temporal-polyfill'

/**
 * The instants at which a clock that started then stops by itself: closing time of its day, and the end of that day for
 * one that was started after closing. closingTime as 18:00; zone an IANA name. A closing time that the change of the
 * clocks leaps over falls as much later as the clocks leap.
 */
export function closingsOf(startedAt: Date, shop: { zone: string; closingTime: string }): string[] {
  const started = Temporal.Instant.fromEpochMilliseconds(startedAt.getTime()).toZonedDateTimeISO(shop.zone)
  const day = started.toPlainDate()
  const closing = day.toZonedDateTime({ timeZone: shop.zone, plainTime: Temporal.PlainTime.from(shop.closingTime) })
  const dayEnd = day.add({ days: 1 }).toZonedDateTime(shop.zone)
  return [closing, dayEnd].map((moment) => new Date(moment.epochMilliseconds).toISOString())
}
