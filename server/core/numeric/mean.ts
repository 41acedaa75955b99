import { sum } from '#core/numeric/sum.ts'

/** Mean of at least one finite value. @example mean([10000001, 10000003, 10000002]) // 10000002 */
export function mean(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError('mean needs at least one value')
  return sum(values) / values.length
}

/**
 * Standard deviation of a sample (divided by n − 1), in two passes so that a large mean does not drown a small spread.
 *
 * @example standardDeviation([10000001, 10000003, 10000002]) // 1
 *
 * Refuses fewer than two values (RangeError). Source: NIST Statistical Reference Datasets, univariate, definition there.
 */
export function standardDeviation(values: readonly number[]): number {
  if (values.length < 2) throw new RangeError('standardDeviation needs at least two values')
  const centre = mean(values)
  const deviations = values.map((value) => value - centre)
  // The second term mends what the rounding of the mean itself leaves.
  const squares = sum(deviations.map((deviation) => deviation * deviation)) - sum(deviations) ** 2 / values.length
  return Math.sqrt(squares / (values.length - 1))
}
