import { fromMm, type LengthUnit } from '#core/units.ts'

/**
 * Figures and days as they stand on every screen. Names of days and months are three letters in one spelling whatever the
 * browser's region; the zone is the shop's and is given, never the tablet's.
 */
const WORDS = 'en-US'
const MINUS = '\u2212'

interface DayParts {
  year: number
  month: number
  day: number
}

const formats = new Map<string, Intl.DateTimeFormat>()

// Making a format costs about a hundred times as much as using one, and a long list uses hundreds.
function format(options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = JSON.stringify(options)
  const known = formats.get(key)
  if (known) return known
  const made = new Intl.DateTimeFormat(WORDS, options)
  formats.set(key, made)
  return made
}

function part(date: Date, options: Intl.DateTimeFormatOptions, type: Intl.DateTimeFormatPartTypes): string {
  const found = format(options)
    .formatToParts(date)
    .find((one) => one.type === type)
  if (!found) throw new RangeError(`format has no ${type}`)
  return found.value
}

function partsOf(date: string): DayParts {
  const read = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date)
  if (!read) throw new RangeError('day needs a date as YYYY-MM-DD')
  return { year: Number(read[1]), month: Number(read[2]), day: Number(read[3]) }
}

// A calendar date has no zone; noon UTC read back as UTC can never slip to a neighbour.
function noon(date: string): Date {
  const { year, month, day } = partsOf(date)
  const at = new Date(Date.UTC(year, month - 1, day, 12))
  if (at.getUTCMonth() !== month - 1) throw new RangeError('day needs a date that exists')
  return at
}

/** The calendar date (YYYY-MM-DD) that an instant falls on in a zone. */
export function dateIn(zone: string, instant: Date | number | string): string {
  const at = new Date(instant)
  const options: Intl.DateTimeFormatOptions = { timeZone: zone, year: 'numeric', month: '2-digit', day: '2-digit' }
  return `${part(at, options, 'year').padStart(4, '0')}-${part(at, options, 'month')}-${part(at, options, 'day')}`
}

/** `Mon 23 Nov`; with the year where it is not today's: `Mon 24 Nov 2025`. Both as YYYY-MM-DD. */
export function day(date: string, today: string): string {
  const at = noon(date)
  const year = partsOf(date).year
  const words = `${part(at, { timeZone: 'UTC', weekday: 'short' }, 'weekday')} ${at.getUTCDate()} ${part(at, { timeZone: 'UTC', month: 'short' }, 'month')}`
  return year === partsOf(today).year ? words : `${words} ${year}`
}

/** `Thursday 3 December`, for those who read it once: the customer's page, the head of the office. */
export function longDay(date: string, today: string): string {
  const at = noon(date)
  const year = partsOf(date).year
  const words = `${part(at, { timeZone: 'UTC', weekday: 'long' }, 'weekday')} ${at.getUTCDate()} ${part(at, { timeZone: 'UTC', month: 'long' }, 'month')}`
  return year === partsOf(today).year ? words : `${words} ${year}`
}

/** `09:05`, by the clock on the shop's wall. */
export function timeOfDay(instant: Date | number | string, zone: string): string {
  const options: Intl.DateTimeFormatOptions = { timeZone: zone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }
  const at = new Date(instant)
  return `${part(at, options, 'hour').padStart(2, '0')}:${part(at, options, 'minute').padStart(2, '0')}`
}

/** `today 09:05`, else `Mon 23 Nov, 12:07`. */
export function dayAndTime(instant: Date | number | string, zone: string, now: Date | number): string {
  const date = dateIn(zone, instant)
  const today = dateIn(zone, now)
  return date === today ? `today ${timeOfDay(instant, zone)}` : `${day(date, today)}, ${timeOfDay(instant, zone)}`
}

/** A count with its word: `1 day`, `15 days`. */
export function counted(count: number, one: string, more = `${one}s`): string {
  return `${count} ${count === 1 ? one : more}`
}

/** Amount in minor units, with the digits of its currency and no sign: `412.00`. With `named`, the code after it: `412.00 EUR`. */
export function money(minor: number, currency: string, named = false): string {
  const { maximumFractionDigits: digits = 2 } = new Intl.NumberFormat(WORDS, { style: 'currency', currency }).resolvedOptions()
  const written = signed(
    new Intl.NumberFormat(WORDS, { minimumFractionDigits: digits, maximumFractionDigits: digits, useGrouping: false }).format(
      minor / 10 ** digits,
    ),
  )
  return named ? `${written} ${currency}` : written
}

/** Time worked or run, h:mm from seconds: `0:47`, `12:05`. Begun minutes do not count. */
export function hoursAndMinutes(seconds: number): string {
  if (!Number.isFinite(seconds) || seconds < 0) throw new RangeError('hoursAndMinutes needs seconds of 0 or more')
  const minutes = Math.floor(seconds / 60)
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`
}

/** Hours as a decimal, for sums of a week: `11.6 h`. */
export function hours(value: number, digits = 1): string {
  return `${signed(value.toFixed(digits))} h`
}

/** Puts the minus sign of the trade in front instead of a hyphen; -0 is 0. */
export function signed(written: string): string {
  if (!written.startsWith('-')) return written
  return /[1-9]/.test(written) ? MINUS + written.slice(1) : written.slice(1)
}

/** How many decimals a reading by a dial of this step carries: 0.01 two, 0.001 and 0.005 three. */
export function decimalsOf(stepMm: number): number {
  if (!(stepMm > 0 && Number.isFinite(stepMm))) throw new RangeError('decimalsOf needs a dial step more than 0')
  return Math.min(6, Math.max(0, Math.ceil(-Math.log10(stepMm) - 1e-9)))
}

/** A number with so many decimals, halves to the even digit (ISO 80000-1, annex B), a real minus sign, no thousands marks. */
export function figure(value: number, decimals: number): string {
  if (!Number.isFinite(value)) throw new RangeError('figure needs a finite number')
  const known =
    figures.get(decimals) ??
    new Intl.NumberFormat(WORDS, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      useGrouping: false,
      roundingMode: 'halfEven',
    })
  figures.set(decimals, known)
  return signed(known.format(value))
}

const figures = new Map<number, Intl.NumberFormat>()

/** A length in mm by the step of what read it: `0.08`. For looking at; paper that decides rounds by core's printedFigure. */
export function mm(value: number, stepMm: number): string {
  return figure(value, decimalsOf(stepMm))
}

/** A length given in mm, said in thou: `3.1`. */
export function thou(valueMm: number, decimals = 1): string {
  return figure(fromMm(valueMm, 'thou'), decimals)
}

/** A length given in mm, with its unit, said in the unit the person thinks in: `0.08 mm`, `3.1 thou`, `31 tenths`. */
export function length(valueMm: number, unit: LengthUnit, stepMm: number): string {
  if (unit === 'mm') return `${mm(valueMm, stepMm)} mm`
  return unit === 'thou' ? `${thou(valueMm)} thou` : `${figure(fromMm(valueMm, 'tenth'), 0)} tenths`
}
