import { daysBetween, isCalendarDate } from '#core/calendar.ts'
import type { JobKind } from '#core/steps.ts'

/**
 * The call after a crank went home: does it run? A rate of comebacks needs those that are well, and those are only known by
 * asking. Common practice, no source.
 */
export const CALL_FROM_DAYS = 21
export const CALL_UNTIL_DAYS = 120

export const CALL_RULE =
  'Rung once, from three weeks after it went home, when the first hours are ridden, until four months after. Not rung: a crank of which something was heard since, one that is here again, and one that was only checked.'

const DAY_MS = 86_400_000

/**
 * The days on which a crank went home that is to be rung today: both ends counted in.
 *
 * @example callDays('2026-11-24') // { from: '2026-07-27', until: '2026-11-03' }
 *
 * Date YYYY-MM-DD; refuses (RangeError) others. Source: as CALL_RULE.
 */
export function callDays(today: string): { from: string; until: string } {
  if (!isCalendarDate(today)) throw new RangeError('callDays needs a date of the calendar')
  const before = (days: number) => new Date(Date.parse(`${today}T00:00:00Z`) - days * DAY_MS).toISOString().slice(0, 10)
  return { from: before(CALL_UNTIL_DAYS), until: before(CALL_FROM_DAYS) }
}

/** Kinds of job after which nobody is rung: nothing was built. */
const NOT_RUNG: readonly JobKind[] = ['check-and-report']

/**
 * Whether a crank is to be rung today, by the rule above. heardSince: a call or a report stands since it went home.
 * hereAgain: it was booked in again.
 *
 * @example isCallDue({ goneOn: '2026-11-03', today: '2026-11-24', kind: 'rebuild', heardSince: false, hereAgain: false }) // true
 * @example isCallDue({ goneOn: '2026-11-04', today: '2026-11-24', kind: 'rebuild', heardSince: false, hereAgain: false }) // false
 *
 * Dates YYYY-MM-DD; refuses (RangeError) others. Source: as CALL_RULE.
 */
export function isCallDue(crank: { goneOn: string; today: string; kind: JobKind; heardSince: boolean; hereAgain: boolean }): boolean {
  const days = daysBetween(crank.goneOn, crank.today)
  const inTime = days >= CALL_FROM_DAYS && days <= CALL_UNTIL_DAYS
  return inTime && !crank.heardSince && !crank.hereAgain && !NOT_RUNG.includes(crank.kind)
}
