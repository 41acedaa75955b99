import { decimalsOf } from '#web/lib/format.ts'

/**
 * Digits of the keypad as a length in mm, written out: `64.06`. One digit is one place of what measures it: with a step of
 * 0.01 mm 6406 is 64.06. Where it is known about how long the thing is (nearMm), no more digits than the step has decimals
 * are the figures behind whole millimetres, of the length that lies nearest: near 64.02, 06 is 64.06 and 98 is 63.98.
 *
 * Refuses (RangeError) what is not digits, and a step that is not more than 0.
 *
 * @example lengthKeyed('905', 0.001, 35) // '34.905'
 */
export function lengthKeyed(digits: string, stepMm: number, nearMm?: number): string {
  if (!/^\d+$/.test(digits)) throw new RangeError('lengthKeyed needs digits')
  const decimals = decimalsOf(stepMm)
  const count = Number(digits)
  const perMm = 10 ** decimals
  const isTail = nearMm !== undefined && digits.length <= decimals
  const whole = isTail ? Math.max(0, Math.round(nearMm - count / perMm)) : 0
  const all = String(whole * perMm + count).padStart(decimals + 1, '0')
  return decimals === 0 ? all : `${all.slice(0, -decimals)}.${all.slice(-decimals)}`
}

const NUMBERS = ['', 'tenths', 'hundredths', 'thousandths'] as const

/** How to key, said beside the pad; example: digits for where the whole length is keyed: `Keyed after 64. in hundredths: 06 is 64.06.` */
export function keyingWords(stepMm: number, nearMm?: number, example = '1234'): string {
  const decimals = decimalsOf(stepMm)
  const places = NUMBERS[decimals] ?? 'steps of what measures it'
  if (decimals === 0) return 'Keyed in whole millimetres.'
  if (nearMm === undefined) return `Keyed in ${places}: ${example} is ${lengthKeyed(example, stepMm)}.`
  const sample = '6'.padStart(decimals, '0')
  const read = lengthKeyed(sample, stepMm, nearMm)
  return `Keyed after ${read.slice(0, -decimals)} in ${places}: ${sample} is ${read}. Another whole: key all of it.`
}
