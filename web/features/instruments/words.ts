import type { Instrument } from '#contract/instruments.ts'

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
