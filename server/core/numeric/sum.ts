/**
 * Sum of a list, with what each addition loses carried along, so that the answer does not depend on the order.
 *
 * @example sum([1, 1e100, 1, -1e100]) // 2
 *
 * An empty list sums to 0. Refuses values that are not finite (RangeError).
 * Source: Neumaier, A. (1974), Zeitschrift für Angewandte Mathematik und Mechanik 54:39–51, from memory.
 */
export function sum(values: readonly number[]): number {
  let total = 0
  let lost = 0
  for (const value of values) {
    if (!Number.isFinite(value)) throw new RangeError('sum needs finite values')
    const next = total + value
    lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total
    total = next
  }
  return total + lost
}
