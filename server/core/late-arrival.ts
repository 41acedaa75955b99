import { millisecondsOf } from '#core/instants.ts'

/** When something was done by the clock of the bench, and when the book got it. */
export interface Arrival {
  occurredAt: string
  recordedAt: string
}

/** A tablet sends within seconds; what takes this long lay on it while the network was away. Common practice, no source. */
const LATE_MS = 10 * 60_000
/** Clocks of two tablets may differ by so much. Common practice, no source. */
const CLOCKS_MS = 60_000

/**
 * Whether something came into the book late: ten minutes or more after it was done, or after the book had got something of
 * the same job that was done later. A minute between the two is let pass, since two tablets have two clocks.
 *
 * @example cameInLate({ occurredAt: '2026-11-24T10:02:00Z', recordedAt: '2026-11-24T11:40:00Z' }) // true
 *
 * Instants RFC 3339 UTC; refuses others (RangeError). Source: common practice, no source.
 */
export function cameInLate(one: Arrival, others: readonly Arrival[] = []): boolean {
  const done = millisecondsOf(one.occurredAt)
  const written = millisecondsOf(one.recordedAt)
  if (written - done >= LATE_MS) return true
  return others.some((other) => millisecondsOf(other.recordedAt) < written && millisecondsOf(other.occurredAt) >= done + CLOCKS_MS)
}
