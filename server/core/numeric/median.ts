/**
 * Middle of some values; of an even number of them halfway between the two in the middle.
 *
 * @example median([3, 1, 2]) // 2
 * @example median([4, 1, 2, 3]) // 2.5
 *
 * Refuses no values (RangeError).
 */
export function median(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError('median needs at least one value')
  const sorted = [...values].sort((one, other) => one - other)
  const half = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2
}
