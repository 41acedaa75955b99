const RFC_3339_UTC = /^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2})(\.\d+)?Z$/

/**
 * An instant (RFC 3339, in UTC, ending in Z) as milliseconds since 1970, fractions of a millisecond kept. Two clocks are
 * compared by these numbers and never by their text, because "…:05Z" and "…:05.000Z" are one instant.
 *
 * Refuses (RangeError) anything else, days that do not exist among them.
 * Source: RFC 3339 (2002), section 5.6.
 *
 * @example millisecondsOf('1970-01-01T00:00:01.5Z') // 1500
 */
export function millisecondsOf(instant: string): number {
  const parts = RFC_3339_UTC.exec(instant)
  const seconds = parts?.[1]
  if (seconds === undefined) throw new RangeError('millisecondsOf needs an instant in UTC, as 2026-11-24T09:05:00Z')
  const whole = Date.parse(`${seconds}Z`)
  if (Number.isNaN(whole) || new Date(whole).toISOString().slice(0, 19) !== seconds) {
    throw new RangeError('millisecondsOf needs a day and a time that exist')
  }
  return whole + Number(`0${parts?.[2] ?? ''}`) * 1000
}

/**
 * Whether one instant is later than another; the same instant is not later. A missing second instant is before everything.
 *
 * @example isLater('2026-11-24T09:15:00Z', '2026-11-24T09:05:00Z') // true
 */
export function isLater(instant: string, than: string | null): boolean {
  return than === null || millisecondsOf(instant) > millisecondsOf(than)
}

/**
 * The latest of some instants, leaving out those that are missing; null where all are.
 *
 * @example latestOf(['2026-11-24T09:05:00Z', null, '2026-11-24T11:40:00Z']) // '2026-11-24T11:40:00Z'
 */
export function latestOf(instants: readonly (string | null)[]): string | null {
  let latest: string | null = null
  for (const instant of instants) {
    if (instant !== null && isLater(instant, latest)) latest = instant
  }
  return latest
}
