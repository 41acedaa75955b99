/**
 * Lengths are kept in mm. Benches also speak of thou (0.001 in) and tenths (0.0001 in); an inch is 25.4 mm exactly
 * (NIST SP 811), so that a thou is 0.0254 mm and a tenth 0.00254 mm.
 */
export const LENGTH_UNITS = ['mm', 'thou', 'tenth'] as const
export type LengthUnit = (typeof LENGTH_UNITS)[number]

const THOU_PER_INCH = 1000
const TENTHS_PER_INCH = 10_000
const MM_PER_INCH = 25.4

const PER_INCH = { mm: MM_PER_INCH, thou: THOU_PER_INCH, tenth: TENTHS_PER_INCH } as const satisfies Record<LengthUnit, number>
const MM_PER_UNIT = { mm: 1, thou: 0.0254, tenth: 0.00254 } as const satisfies Record<LengthUnit, number>

/** Millimetres of a length said in another unit. Refuses what is not finite (RangeError). @example toMm(10, 'thou') // 0.254 */
export function toMm(value: number, unit: LengthUnit): number {
  if (!Number.isFinite(value)) throw new RangeError('toMm needs a finite length')
  return unit === 'mm' ? value : (value * MM_PER_INCH) / PER_INCH[unit]
}

/** A length in mm, said in another unit. Refuses what is not finite (RangeError). @example fromMm(25.4, 'thou') // 1000 */
export function fromMm(mm: number, unit: LengthUnit): number {
  if (!Number.isFinite(mm)) throw new RangeError('fromMm needs a finite length')
  return unit === 'mm' ? mm : (mm * PER_INCH[unit]) / MM_PER_INCH
}

/** A length as it was typed: the text stays beside the mm, so that the sheet can show what the hand wrote. */
export interface TypedLength {
  mm: number
  unit: LengthUnit
  typed: string
}

export type UnreadLengthReason = 'nothing-typed' | 'no-figure' | 'second-mark' | 'thousands-mark' | 'unknown-unit' | 'too-long'

export type ReadLength = { ok: true; value: TypedLength } | { ok: false; reason: UnreadLengthReason; detail: string }

const UNIT_WORDS: Readonly<Record<string, LengthUnit>> = {
  mm: 'mm',
  thou: 'thou',
  thous: 'thou',
  tenth: 'tenth',
  tenths: 'tenth',
}
/** One inch is 254 × 10⁻¹ mm, and so on: whole numbers and a power of ten keep the conversion exact. */
const EXACT_FACTOR = {
  mm: { whole: 1n, decimals: 0 },
  thou: { whole: 254n, decimals: 4 },
  tenth: { whole: 254n, decimals: 5 },
} as const satisfies Record<LengthUnit, { whole: bigint; decimals: number }>

const SPACES = /[\s\u00a0\u2007\u2009\u202f]+/gu
const MINUS_SIGNS = /^[\u2212\u2010\u2011\u2012\u2013\ufe63\uff0d]/u
const LONGEST = 24

/**
 * Reads a length as somebody types it: `0.02`, `0,8 thou`, `3 tenths`, `−0.015`. Comma and point alike are the decimal
 * mark. The mm are the double nearest to the exact decimal, never a thousandfold, never a silent 0.
 *
 * @example readLength('0,8 thou', 'mm') // { ok: true, value: { mm: 0.02032, unit: 'thou', typed: '0,8 thou' } }
 * @example readLength('1.234,5', 'mm').reason // 'second-mark'
 *
 * Answers a refusal with a sentence for: nothing typed, a second decimal mark, marks or spaces between thousands,
 * another unit, figures other than 0–9 and anything else that is not a length. Common practice, no source.
 */
export function readLength(typed: string, unless: LengthUnit): ReadLength {
  const text = typed.replace(SPACES, ' ').trim().replace(MINUS_SIGNS, '-')
  if (text === '') return unread('nothing-typed', 'Nothing is typed yet.')
  if (text.length > LONGEST) return unread('too-long', 'Too long for a length. Type it again.')
  const parts = /^([-+]? ?[^a-zA-Zµμ"″]*?) ?([a-zA-Zµμ"″]*)$/u.exec(text)
  const figures = parts?.[1]?.replace(/^([-+]) /, '$1') ?? ''
  const fault = faultOf(parts === null ? text : figures)
  if (fault !== undefined) return fault
  const word = parts?.[2] ?? ''
  const unit = word === '' ? unless : UNIT_WORDS[word.toLowerCase()]
  if (unit === undefined) return unread('unknown-unit', `“${word}” is not a unit here. Write mm, thou or tenths.`)
  return { ok: true, value: { mm: exactMm(figures, unit), unit, typed } }
}

function unread(reason: UnreadLengthReason, detail: string): ReadLength {
  return { ok: false, reason, detail }
}

function faultOf(figures: string): ReadLength | undefined {
  if (/[0-9.,]['’_ ]+[0-9]/u.test(figures)) return unread('thousands-mark', 'No marks or spaces between thousands. Write 1234.5.')
  if (/[.,].*[.,]/u.test(figures)) return unread('second-mark', 'One decimal mark only, comma or point. No marks between thousands.')
  if (!/^[-+]?([0-9]+[.,]?[0-9]*|[.,][0-9]+)$/u.test(figures))
    return unread('no-figure', 'That is no length. Write it in figures, as 0.02.')
  return undefined
}

function exactMm(figures: string, unit: LengthUnit): number {
  const { whole, decimals } = EXACT_FACTOR[unit]
  const mark = figures.search(/[.,]/)
  const after = mark === -1 ? 0 : figures.length - mark - 1
  const digits = BigInt(figures.replace(/[-+.,]/g, ''))
  const mm = Number(`${digits * whole}e-${after + decimals}`)
  return figures.startsWith('-') && mm !== 0 ? -mm : mm
}

/** The side on which an error would flatter the shop: a runout that looks low, an interference that looks high. */
export type FlatteringSide = 'low' | 'high'

/** A figure ready for print: the value on its last digit, and how many decimals to write. */
export interface PrintedFigure {
  value: number
  decimals: number
}

/**
 * Rounds a length for print away from the flattering side, with no digit finer than the step of the dial that read it.
 *
 * @example printedFigure({ mm: 0.0171, stepMm: 0.01, unit: 'mm', flattering: 'low' }) // { value: 0.02, decimals: 2 }
 * @example printedFigure({ mm: 0.0171, stepMm: 0.01, unit: 'thou', flattering: 'low' }) // { value: 1, decimals: 0 }
 *
 * Refuses what is not finite and a step that is not more than 0 (RangeError). Common practice, no source.
 */
export function printedFigure(figure: { mm: number; stepMm: number; unit: LengthUnit; flattering: FlatteringSide }): PrintedFigure {
  if (!(figure.stepMm > 0 && Number.isFinite(figure.stepMm))) throw new RangeError('printedFigure needs a dial step more than 0')
  const value = fromMm(figure.mm, figure.unit)
  const step = figure.stepMm / MM_PER_UNIT[figure.unit]
  const decimals = Math.min(10, Math.max(0, Math.floor(-Math.log10(step) + 1e-9)))
  const inDigits = value * 10 ** decimals
  // 0.02 read in binary may lie a hair above 0.02; that hair must not cost a whole digit.
  const dust = 1e-9 * Math.max(1, Math.abs(inDigits))
  const digits = figure.flattering === 'low' ? Math.ceil(inDigits - dust) : Math.floor(inDigits + dust)
  return { value: digits === 0 ? 0 : Number(`${digits}e-${decimals}`), decimals }
}

/** Linear expansion of steel per kelvin (JCGM 100:2008, example H.1). */
export const STEEL_EXPANSION_PER_K = 11.5e-6
/** Temperature at which a length is said (ISO 1). */
export const REFERENCE_TEMPERATURE_C = 20

/**
 * What a steel part that measures so many mm at some temperature will measure at 20 °C.
 *
 * @example lengthAt20C(60.0276, 60).toFixed(4) // '60.0000'
 *
 * Refuses what is not finite (RangeError). Source: ISO 1; JCGM 100:2008 H.1 for the coefficient.
 */
export function lengthAt20C(mm: number, temperatureC: number): number {
  if (!Number.isFinite(mm) || !Number.isFinite(temperatureC)) throw new RangeError('lengthAt20C needs a finite length and temperature')
  return mm / (1 + STEEL_EXPANSION_PER_K * (temperatureC - REFERENCE_TEMPERATURE_C))
}
