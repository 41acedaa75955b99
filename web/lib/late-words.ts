import type { Arrival } from '#core/late-arrival.ts'
import { dateIn, day, timeOfDay } from '#web/lib/format.ts'

/** What came into the book late says both times: `came in late: read 10:02, in the book 11:40`, with the days where they differ. */
export function lateWords(did: string, { occurredAt, recordedAt }: Arrival, zone: string): string {
  const last = dateIn(zone, recordedAt)
  const isOneDay = dateIn(zone, occurredAt) === last
  const when = (instant: string) => `${isOneDay ? '' : `${day(dateIn(zone, instant), last)}, `}${timeOfDay(instant, zone)}`
  return `came in late: ${did} ${when(occurredAt)}, in the book ${when(recordedAt)}`
}
