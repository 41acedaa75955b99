/** What moves through the shop: how many, how fast, how long. */

/** Any two of the three that Little's law ties together. Rate and time in the same unit of time. */
export type TwoOfLittle = { inHand: number; rate: number } | { rate: number; timeHere: number } | { inHand: number; timeHere: number }

export interface Little {
  /** Mean number in hand. */
  inHand: number
  /** Leaving in each unit of time. */
  rate: number
  /** Mean time here. */
  timeHere: number
}

/**
 * Little's law: in hand = rate × time here, all three as means over a time in which as much leaves as comes in. Given two it
 * answers the third.
 *
 * All 0 or more; refuses (RangeError) others, and a division by 0.
 * Source: Little, J.D.C. & Graves, S.C. (2008), "Little's Law", in Building Intuition.
 *
 * @example littlesLaw({ inHand: 160, rate: 96 }).timeHere.toFixed(2) // '1.67'
 * @example littlesLaw({ rate: 1.4, timeHere: 9.5 }).inHand.toFixed(1) // '13.3'
 */
export function littlesLaw(given: TwoOfLittle): Little {
  for (const each of Object.values(given)) {
    if (!(Number.isFinite(each) && each >= 0)) throw new RangeError('littlesLaw needs figures of 0 or more')
  }
  if (!('inHand' in given)) return { ...given, inHand: given.rate * given.timeHere }
  const divisor = 'rate' in given ? given.rate : given.timeHere
  if (divisor === 0) throw new RangeError('littlesLaw needs a rate or a time over 0')
  return 'rate' in given ? { ...given, timeHere: given.inHand / given.rate } : { ...given, rate: given.inHand / given.timeHere }
}

/** A value and how often it stands in a sample. */
export interface ValueCount {
  value: number
  count: number
}

/**
 * The percentile of a sample given as values with their counts, by linear interpolation between neighbours: type 7 of
 * Hyndman and Fan, in which the place of p is (n − 1)p + 1, or type 6, in which it is (n + 1)p. Null of nothing.
 *
 * p from 0 to 1; counts whole and 0 or more; refuses (RangeError) others.
 * Source: Hyndman, R.J. & Fan, Y. (1996), "Sample quantiles in statistical packages", The American Statistician 50(4):361–365.
 *
 * @example percentile([{ value: 9, count: 1 }, { value: 3, count: 2 }], 0.5) // 3
 * @example percentile([{ value: 1, count: 1 }, { value: 2, count: 1 }], 0.25) // 1.25
 */
export function percentile(sample: readonly ValueCount[], p: number, type: 6 | 7 = 7): number | null {
  if (!(p >= 0 && p <= 1)) throw new RangeError('percentile needs p from 0 to 1')
  for (const { value, count } of sample) {
    if (!Number.isFinite(value) || !Number.isSafeInteger(count) || count < 0)
      throw new RangeError('percentile needs values with whole counts')
  }
  const sorted = [...sample].filter(({ count }) => count > 0).sort((one, other) => one.value - other.value)
  const size = sorted.reduce((sum, { count }) => sum + count, 0)
  if (size === 0) return null
  const place = Math.min(size, Math.max(1, type === 7 ? (size - 1) * p + 1 : (size + 1) * p))
  const below = Math.floor(place)
  const low = nth(sorted, below)
  const high = nth(sorted, Math.min(size, below + 1))
  return low + (place - below) * (high - low)
}

/** The n-th smallest, counted from 1. */
function nth(sorted: readonly ValueCount[], n: number): number {
  let seen = 0
  for (const { value, count } of sorted) {
    seen += count
    if (seen >= n) return value
  }
  throw new RangeError('percentile has no such place')
}

/**
 * The mean of a sample given as values with their counts; null of nothing.
 *
 * @example meanOf([{ value: 2, count: 3 }, { value: 6, count: 1 }]) // 3
 */
export function meanOf(sample: readonly ValueCount[]): number | null {
  const size = sample.reduce((sum, { count }) => sum + count, 0)
  return size === 0 ? null : sample.reduce((sum, { value, count }) => sum + value * count, 0) / size
}
