/**
 * What tells whether a hand is ready to sign: how often the crank was true at first check, how often the second reader
 * differed by more than the doubt, how many moves it takes, and how much of the time goes into truing.
 */

interface End {
  tirMm: number
}

/** One set of runout readings as it was judged when it was stored. */
export interface JudgedSet {
  left?: End | undefined
  right?: End | undefined
  limits: { leftMm?: number | undefined; rightMm?: number | undefined }
  giveOrTake: { leftMm: number; rightMm: number }
}

/** A reading exactly at the limit is inside it; binary dust of the sum must not put it outside. */
const DUST_MM = 1e-9

/**
 * Whether the first set by the second person is within the house limit at both ends; null where it cannot be said,
 * because an end was not read or has no limit.
 * Source: the shop's definition of "true at first check".
 *
 * @example trueAtFirstCheck({ left: { tirMm: 0.018 }, right: { tirMm: 0.021 }, limits: { leftMm: 0.02, rightMm: 0.02 }, giveOrTake: { leftMm: 0.008, rightMm: 0.008 } }) // false
 */
export function trueAtFirstCheck(set: JudgedSet): boolean | null {
  const { left, right, limits } = set
  if (left === undefined || right === undefined || limits.leftMm === undefined || limits.rightMm === undefined) return null
  return left.tirMm <= limits.leftMm + DUST_MM && right.tirMm <= limits.rightMm + DUST_MM
}

/**
 * Whether two readings of the same crank differ at an end by more than √2 × the give-or-take of one; null where an end is
 * missing in either. Source: difference of two independent readings of equal doubt (JCGM 100:2008, 5.1.2).
 */
export function differByMoreThanDoubt(first: JudgedSet, second: JudgedSet): boolean | null {
  if (!first.left || !first.right || !second.left || !second.right) return null
  const over = (one: End, other: End, giveOrTakeMm: number) => Math.abs(one.tirMm - other.tirMm) > Math.SQRT2 * giveOrTakeMm + DUST_MM
  return over(first.left, second.left, second.giveOrTake.leftMm) || over(first.right, second.right, second.giveOrTake.rightMm)
}

/**
 * Geometric mean of counts of moves; absent without any. Zero moves count as one, since a logarithm of nothing is none.
 *
 * @example movesACrank([2, 8]) // 4
 */
export function movesACrank(moves: readonly number[]): number | undefined {
  if (moves.length === 0) return undefined
  return Math.exp(moves.reduce((sum, count) => sum + Math.log(Math.max(1, count)), 0) / moves.length)
}

/**
 * Geometric mean of hours with its interval, for where no line may be fitted: Student's t on the logarithms, of which the
 * quantile is handed in. Absent under two cranks.
 *
 * @example levelOf([2, 2, 2], 4.3027) // { hours: 2, low: 2, high: 2, of: 3 }
 */
export function levelOf(hours: readonly number[], tQuantile: number): { hours: number; low: number; high: number; of: number } | undefined {
  const count = hours.length
  if (count < 2) return undefined
  const logs = hours.map((one) => Math.log(one))
  const mean = logs.reduce((sum, log) => sum + log, 0) / count
  const variance = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / (count - 1)
  const reach = tQuantile * Math.sqrt(variance / count)
  return { hours: Math.exp(mean), low: Math.exp(mean - reach), high: Math.exp(mean + reach), of: count }
}
