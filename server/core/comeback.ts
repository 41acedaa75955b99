import { isCalendarDate } from '#core/calendar.ts'
import { type Finding, showsAFault } from '#core/comeback-findings.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { isWithin } from '#core/runout-verdict.ts'

/** How a comeback is known: the crank stands here again, or somebody told us of it. */
export const COMEBACK_HOW = ['returned', 'told'] as const
export type ComebackHow = (typeof COMEBACK_HOW)[number]

export const COMEBACK_CAUSES = ['lubrication', 'kit', 'pin-shift', 'case-or-bearing', 'workmanship', 'nothing-found', 'not-known'] as const
export type ComebackCause = (typeof COMEBACK_CAUSES)[number]

export const CAUSE_WORDS: Readonly<Record<ComebackCause, string>> = {
  lubrication: 'oil, fuel or dirt',
  kit: 'the kit',
  'pin-shift': 'pin shifted',
  'case-or-bearing': 'case or bearing',
  workmanship: 'our work',
  'nothing-found': 'nothing found',
  'not-known': 'not known',
}

/** Who bears it. */
export const COMEBACK_SHARES = ['ours', 'part', 'theirs', 'not-known'] as const
export type ComebackShare = (typeof COMEBACK_SHARES)[number]

/** Who bears it, and what follows from that. Common practice, no source. */
export const SHARE_WORDS: Readonly<Record<ComebackShare, { says: string; follows: string }>> = {
  ours: { says: 'ours', follows: 'we put it right and bear all of it' },
  part: { says: 'the part’s', follows: 'a claim to the seller of the kit, with its lot and photos' },
  theirs: { says: 'theirs', follows: 'a quote at the trade rate' },
  'not-known': { says: 'not known', follows: 'the cost is split, once' },
}

/** What to ask for before anything is opened. Common practice, no source. */
export const ASK_FOR =
  'Ask for the whole crank, unwashed, with its bearings, plug and filter, and some of the oil. Photograph it before it is washed, and let somebody other than its builder read it, held as on the certificate.'

/** The usual caution with what came unwashed, beside the one on solvents; local rules go before both. Common practice, no source. */
export const UNWASHED =
  'An unwashed crank brings fuel and used oil with it: gloves on, air moving, no flame or spark near, its rags in a lidded tin.'

/** How long after going home a crank that fails is a comeback, in months. */
export const COMEBACK_MONTHS = 12

/**
 * The same day of the month some months later; where that month is too short, its last day.
 *
 * @example monthsAfter('2026-11-24', 12) // '2027-11-24'
 * @example monthsAfter('2028-02-29', 12) // '2029-02-28'
 *
 * Date YYYY-MM-DD, months a whole number from 0 to 1200; refuses (RangeError) others.
 * Source: the rule of PostgreSQL 18 for a date and an interval of months (documentation, 9.9 Date/Time Functions), which a test asks.
 */
export function monthsAfter(date: string, months: number): string {
  if (!isCalendarDate(date) || !Number.isInteger(months) || months < 0 || months > 1200)
    throw new RangeError('monthsAfter needs a date of the calendar and whole months from 0 to 1200')
  const [year, month, day] = date.split('-').map(Number) as [number, number, number]
  const count = year * 12 + month - 1 + months
  const lastDay = new Date(Date.UTC(Math.floor(count / 12), (count % 12) + 1, 0)).getUTCDate()
  const written = [String(Math.floor(count / 12)).padStart(4, '0'), two((count % 12) + 1), two(Math.min(day, lastDay))]
  return written.join('-')
}

function two(number: number): string {
  return String(number).padStart(2, '0')
}

/** Whether a report counts as a comeback, and why, in words. */
export interface Counted {
  counts: boolean
  why: string
}

/**
 * Whether a report counts as a comeback: any crank of ours that returns, or is talked about as failed, within 12 months of
 * going home, or later but within the hours that were promised for it, whoever is to blame. The last day of the 12 months
 * still counts.
 *
 * Dates YYYY-MM-DD: goneOn the day it went home (null where that step was taken back), day the day of the report. hours:
 * ridden since, h, null where unknown. promisedHours: h, absent where the shop promises none. Refuses (RangeError) dates
 * that do not exist and hours under 0.
 * Source: common practice, no source.
 *
 * @example comebackCounts({ goneOn: '2026-01-10', day: '2026-11-24', hours: 41 }).counts // true
 * @example comebackCounts({ goneOn: '2025-01-10', day: '2026-11-24', hours: 41 }).counts // false
 * @example comebackCounts({ goneOn: '2025-01-10', day: '2026-11-24', hours: 41, promisedHours: 50 }).counts // true
 */
export function comebackCounts(report: { goneOn: string | null; day: string; hours: number | null; promisedHours?: number }): Counted {
  const { goneOn, day, hours, promisedHours } = report
  if (!isCalendarDate(day)) throw new RangeError('comebackCounts needs a date of the calendar')
  if ([hours ?? 0, promisedHours ?? 0].some((each) => !(each >= 0 && Number.isFinite(each))))
    throw new RangeError('comebackCounts needs hours of 0 or more')
  if (goneOn === null) return { counts: false, why: 'That it went home was taken back, so it does not count.' }
  const until = monthsAfter(goneOn, COMEBACK_MONTHS)
  if (day <= until)
    return {
      counts: true,
      why: `It counts as a comeback: within ${COMEBACK_MONTHS} months of going home, which end on ${dayInWords(until)}.`,
    }
  const late = `the ${COMEBACK_MONTHS} months ended on ${dayInWords(until)}`
  if (promisedHours === undefined) return { counts: false, why: `It does not count: ${late}.` }
  if (hours === null) return { counts: false, why: `It does not count: ${late}, and its hours are not known.` }
  return hours <= promisedHours
    ? { counts: true, why: `It counts as a comeback: ${late}, but ${hours} h are within the ${promisedHours} h promised.` }
    : { counts: false, why: `It does not count: ${late}, and ${hours} h are over the ${promisedHours} h promised.` }
}

/** What stands in a report once a change is made. */
export interface ReportAsDecided {
  found: readonly Finding[]
  /** What was found in words, or why nothing could be looked at; null where nothing is written. */
  foundNote: string | null
  cause: ComebackCause | null
  share: ComebackShare | null
}

/**
 * Why a cause and whose it is may not stand as they do; null where they may. Blame is decided after looking, never at the
 * counter: neither stands before something is written down as found, in a finding or in words. They are decided together.
 * "Nothing found" does not stand beside a fault, and a crank on which no fault was found has no cause in it.
 *
 * @example decisionFault({ found: [], foundNote: null, cause: null, share: null }) // null
 * @example decisionFault({ found: [], foundNote: null, cause: 'kit', share: 'part' }).field // 'cause'
 * @example decisionFault({ found: ['cage-broken'], foundNote: null, cause: 'kit', share: 'part' }) // null
 *
 * Source: common practice, no source.
 */
export function decisionFault(report: ReportAsDecided): { field: 'cause' | 'share'; detail: string } | null {
  const { found, foundNote, cause, share } = report
  if (cause === null && share === null) return null
  if (found.length === 0 && foundNote === null)
    return {
      field: 'cause',
      detail: 'Cause and whose it is are decided after looking. Write down first what was found, or that nothing was.',
    }
  if (cause === null) return { field: 'cause', detail: 'Say the cause too; not known is an answer.' }
  if (share === null) return { field: 'share', detail: 'Say whose it is too; not known is an answer.' }
  if (cause === 'nothing-found' && showsAFault(found))
    return { field: 'cause', detail: 'Something was found, so the cause is not that nothing was.' }
  if (found.length > 0 && !showsAFault(found) && cause !== 'nothing-found' && cause !== 'not-known')
    return { field: 'cause', detail: 'No fault was found on it: the cause is nothing found, or not known.' }
  return null
}

/**
 * Whether a crank reads as it read on its certificate: the two readings differ by no more than the give-or-take of both
 * taken together (root of the sum of squares).
 *
 * @example repeatsCertificate({ thenMm: 0.014, nowMm: 0.019, giveOrTakeThenMm: 0.005, giveOrTakeNowMm: 0.005 }) // true
 * @example repeatsCertificate({ thenMm: 0.014, nowMm: 0.08, giveOrTakeThenMm: 0.005, giveOrTakeNowMm: 0.008 }) // false
 *
 * All mm, 0 or more (k = 2); refuses (RangeError) others.
 * Source: difference of two independent readings, JCGM 100:2008 (GUM) 5.1.
 */
export function repeatsCertificate(ends: { thenMm: number; nowMm: number; giveOrTakeThenMm: number; giveOrTakeNowMm: number }): boolean {
  const { thenMm, nowMm, giveOrTakeThenMm, giveOrTakeNowMm } = ends
  if (![thenMm, nowMm, giveOrTakeThenMm, giveOrTakeNowMm].every((each) => each >= 0 && Number.isFinite(each)))
    throw new RangeError('repeatsCertificate needs lengths of 0 or more')
  return isWithin(Math.abs(nowMm - thenMm), Math.hypot(giveOrTakeThenMm, giveOrTakeNowMm))
}
