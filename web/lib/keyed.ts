/**
 * What has been keyed on the bench keypad so far. Digits are kept as digits, so that `06` stays `06` where the last two
 * figures of a width are keyed, and `−` may come before or after the digits.
 */
export interface Keyed {
  digits: string
  negative: boolean
  /** Half a division more than the digits say. */
  half: boolean
}

export const NOTHING_KEYED: Keyed = { digits: '', negative: false, half: false }

export type PadKey = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | 'minus' | 'half' | 'rub-out'

export function isNothing(keyed: Keyed): boolean {
  return keyed.digits === '' && !keyed.negative && !keyed.half
}

/** Whether it stands for a number: a minus alone does not, half a division alone does. */
export function isNumber(keyed: Keyed): boolean {
  return keyed.digits !== '' || keyed.half
}

/** What one key makes of it. A digit beyond `most` is not taken; `half` and `minus` go on and off; rub-out takes back the last key. */
export function press(keyed: Keyed, key: PadKey, most: number): Keyed {
  if (key === 'minus') return { ...keyed, negative: !keyed.negative }
  if (key === 'half') return { ...keyed, half: !keyed.half }
  if (key === 'rub-out') {
    if (keyed.half) return { ...keyed, half: false }
    return keyed.digits === '' ? NOTHING_KEYED : { ...keyed, digits: keyed.digits.slice(0, -1) }
  }
  if (keyed.digits.length >= most) return keyed
  return { ...keyed, digits: keyed.digits + key }
}

/** The reading in divisions of the dial: digits, and a half where said, with the sign. Needs something that stands for a number. */
export function divisions(keyed: Keyed): number {
  if (!isNumber(keyed)) throw new RangeError('divisions needs a digit or a half')
  const size = Number(keyed.digits === '' ? '0' : keyed.digits) + (keyed.half ? 0.5 : 0)
  return size === 0 || !keyed.negative ? size : -size
}

/** Divisions of a dial as mm. Counted in whole half-divisions, so that 7 divisions of 0.01 are 0.07 and not 0.07000000000000001. */
export function divisionsToMm(count: number, stepMm: number): number {
  if (!Number.isFinite(count) || !(stepMm > 0 && Number.isFinite(stepMm)))
    throw new RangeError('divisionsToMm needs a count and a dial step more than 0')
  const perMm = 1 / stepMm
  const whole = Math.round(perMm)
  return Math.abs(perMm - whole) < 1e-6 ? (2 * count) / (2 * whole) : Number((count * stepMm).toPrecision(12))
}

/** A reading in mm back as keyed, for going back to a cell. Half a division is the finest that can be keyed. */
export function keyedOf(mm: number, stepMm: number): Keyed {
  const halves = Math.round((2 * mm) / stepMm)
  const whole = Math.floor(Math.abs(halves) / 2)
  return { digits: String(whole), negative: halves < 0, half: Math.abs(halves) % 2 === 1 }
}
