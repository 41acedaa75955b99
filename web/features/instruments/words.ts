import type { InstrumentCheck } from '#contract/instrument-checks.ts'
import type { CheckKind, Instrument } from '#contract/instruments.ts'
import { daysBetween } from '#core/calendar.ts'
import { INSTRUMENT_DAYS } from '#core/office-rules.ts'
import { dateIn, figure } from '#web/lib/format.ts'

export const KIND_WORDS: Readonly<Record<Instrument['kind'], string>> = {
  dial: 'dial',
  micrometer: 'micrometer',
  'bore-gauge': 'bore gauge',
  feeler: 'feelers',
  'press-gauge': 'gauge of the press',
  thermometer: 'thermometer',
  'setting-rod': 'setting rod',
}

export const KINDS = Object.keys(KIND_WORDS) as Instrument['kind'][]

/** Months until the next check where nobody says otherwise: common practice, no source. */
const MONTHS_BETWEEN = 4

/** The day so many months later, the last of the month where it has no such day. Dates YYYY-MM-DD. */
export function dueAfter(checkedOn: string, months: number = MONTHS_BETWEEN): string {
  const [year, month, day] = checkedOn.split('-').map(Number)
  if (year === undefined || month === undefined || day === undefined || [year, month, day].some(Number.isNaN))
    throw new RangeError('dueAfter needs a date as 2026-11-24')
  const last = new Date(Date.UTC(year, month + months, 0)).getUTCDate()
  return new Date(Date.UTC(year, month - 1 + months, Math.min(day, last))).toISOString().slice(0, 10)
}

/** Those whose zero is looked at before the day's work. */
export const ZEROED_KINDS: readonly Instrument['kind'][] = ['dial', 'micrometer', 'bore-gauge']

/** Of those whose zero is looked at, how many hold it on this day of the shop. */
export function zeroedOf(all: readonly Instrument[], today: string, zone: string): { read: Instrument[]; done: number } {
  const read = all.filter((one) => !one.ended && ZEROED_KINDS.includes(one.kind))
  return { read, done: read.filter((one) => isZeroedOn(one, today, zone)).length }
}

/** How fine it reads, in its own unit: a gauge of the press in tonnes, a rod of fixed length to what it is known. */
export function stepWords({ kind, stepMm }: Pick<Instrument, 'kind' | 'stepMm'>): string {
  if (kind === 'setting-rod') return `known to ${stepMm} mm`
  if (kind === 'feeler') return `in steps of ${stepMm} mm`
  return `one division ${stepMm} ${kind === 'press-gauge' ? 't' : kind === 'thermometer' ? '°C' : 'mm'}`
}

/** What put an instrument in doubt, after its name. */
export const DOUBT_WORDS: Readonly<Record<CheckKind, string>> = {
  check: 'it failed its check',
  zero: 'it did not hold its zero',
  dropped: 'it was dropped',
}

/** What was found: `checked, read right`, `zeroed, read 0.004 mm high`. */
export function foundWords({ kind, held, offMm }: Pick<InstrumentCheck, 'kind' | 'held' | 'offMm'>): string {
  if (kind === 'dropped') return 'dropped'
  const did = kind === 'zero' ? 'zeroed' : 'checked'
  const off = offMm === undefined || offMm === 0 ? '' : `, read ${shortMm(Math.abs(offMm))} mm ${offMm > 0 ? 'high' : 'low'}`
  return held === true ? `${did}, ${kind === 'zero' ? 'held' : 'good'}${off}` : `${did}, did not hold${off}`
}

/** A length without noughts at its end. */
export function shortMm(mm: number): string {
  const written = figure(mm, 4)
  return written.includes('.') ? written.replace(/\.?0+$/, '') : written
}

/** Whether its check is due within the days in which the shop is told, and not yet overdue. */
export function isDueSoon({ dueOn, overdue, ended }: Pick<Instrument, 'dueOn' | 'overdue' | 'ended'>, today: string): boolean {
  return !ended && !overdue && dueOn !== undefined && daysBetween(today, dueOn) <= INSTRUMENT_DAYS
}

/** Whether it held its zero on this day of the shop. */
export function isZeroedOn({ zeroedAt }: Pick<Instrument, 'zeroedAt'>, today: string, zone: string): boolean {
  return zeroedAt !== undefined && dateIn(zone, zeroedAt) === today
}
