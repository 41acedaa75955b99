import type { OfficeComebacks } from '#contract/office-came-back.ts'
import type { OfficeFlow } from '#contract/office-flow.ts'
import type { OfficeToday } from '#contract/office-today.ts'
import { monthInWords } from '#core/days-in-words.ts'
import type { JobKind, WaitingFor } from '#core/steps.ts'
import { counted, figure, hours, money } from '#web/lib/format.ts'

export const KIND_WORDS: Readonly<Record<JobKind, string>> = {
  rebuild: 'rebuild',
  'true-only': 'true only',
  'check-and-report': 'check and report',
  'weld-only': 'weld only',
}

/** At most so many digits after the point, and none that is a nought: `9`, `9.5`. */
export function plain(value: number, most = 1): string {
  const written = figure(value, most)
  return written.includes('.') ? written.replace(/\.?0+$/, '') : written
}

/** A rate of a hundred: a digit after the point under ten only. */
export function perHundred(value: number): string {
  return figure(value, value < 9.95 ? 1 : 0)
}

/** `1.7 to 5.8`, of a share and its interval. */
export function betweenWords(interval: { low: number; high: number }): string {
  return `${perHundred(100 * interval.low)} to ${perHundred(100 * interval.high)}`
}

/** `26 of 43` */
export function ofWords({ count, n }: { count: number; n: number }): string {
  return n === 0 ? 'none yet' : `${count} of ${n}`
}

const ONE_IN = new Intl.NumberFormat('en-US', { maximumSignificantDigits: 2 })

/** `1 in 2,600`: as often a difference so great comes by chance between things that are alike, two digits. */
export function chanceWords(p: number): string {
  if (p < 1e-6) return 'less than 1 in 1,000,000'
  if (p > 0.5) return 'more often than not'
  return `1 in ${ONE_IN.format(1 / p)}`
}

export const WAITING_WORDS: Readonly<Record<WaitingFor, string>> = { kit: 'for a kit', yes: 'for a yes', outside: 'for somebody outside' }

/** `Waiting: 3 for a kit, oldest 15 days; 1 for a yes, 4 days.` */
export function waitingWords({ of, n }: Pick<OfficeToday['waiting'], 'of' | 'n'>): string {
  if (n === 0 || of.length === 0) return 'Nothing waits for a kit, a yes or somebody outside.'
  const each = of.map(
    ({ what, n: many, oldestDays }) => `${many} ${WAITING_WORDS[what]}, ${many > 1 ? 'oldest ' : ''}${counted(oldestDays, 'day')}`,
  )
  return `Waiting: ${each.join('; ')}.`
}

/** `Promised this week: 5 cranks, 11.6 h. Bench hours free: 19.0 h.` Late ones still ask for theirs. */
export function promisedWords(promised: OfficeToday['promised']): string {
  const late = promised.lateHours > 0 ? `, and ${hours(promised.lateHours)} for what is late` : ''
  const asked =
    promised.n === 0
      ? `Promised this week: none${late}`
      : `Promised this week: ${counted(promised.n, 'crank')}, ${hours(promised.hours)}${late}`
  return `${asked}. Bench hours free: ${hours(promised.freeHours)}.`
}

/** `Ready, not fetched: 4, one 47 days. 731.00 EUR on the shelf.` */
export function readyWords({ n, oldestDays, owesMinor }: OfficeToday['ready'], currency: string): string {
  if (n === 0) return 'Nothing is ready and not fetched.'
  const oldest = oldestDays === undefined ? '' : `, ${n === 1 ? '' : 'one '}${counted(oldestDays, 'day')}`
  return `Ready, not fetched: ${n}${oldest}. ${money(owesMinor, currency, true)} on the shelf.`
}

/** `Half are home in 9 days, 17 in 20 in 16.` */
export function stayWords({ n, half, seventeenIn20 }: OfficeFlow['stay']['all']): string {
  if (n === 0 || half === undefined || seventeenIn20 === undefined) return 'None has left in these weeks.'
  return `Half are home in ${plain(half)} ${half === 1 ? 'day' : 'days'}, 17 in 20 in ${plain(seventeenIn20)}.`
}

/** `In hand = per day × days here: 1.4 × 9.8 = 13.7.` The product is the book's, of unrounded parts. */
export function littleWords({ perDay, meanDays, product }: OfficeFlow['little']): string {
  if (meanDays === undefined || product === undefined) return ''
  return `In hand = per day × days here: ${plain(perDay, perDay < 1 ? 3 : 2)} × ${figure(meanDays, 1)} = ${figure(product, 1)}.`
}

/** Why the list of what came back is empty. */
export function noneGoneWords(cameBack: Pick<OfficeComebacks, 'all'>, narrowed: boolean): string | undefined {
  if (cameBack.all.n > 0) return undefined
  return narrowed ? 'No crank went home in these days.' : 'No crank has gone home yet.'
}

/** `2026-11` → `November 2026`; the short form is its first three letters. */
export function monthWords(month: string): { name: string; label: string } {
  const name = monthInWords(month)
  return { name, label: name.slice(0, 3) }
}

/** `2026-W48` → 48 */
export function weekNumber(week: string): string {
  return String(Number(week.slice(-2)))
}
