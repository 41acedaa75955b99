/**
 * The tax contained in an amount that includes it, in whole minor units, rounded half up. The rate is in thousandths of
 * the amount without tax: 200 is 20 %.
 *
 * Refuses (RangeError) an amount that is below 0, not whole or too great to be exact, and a rate that is not a whole number
 * from 0 to 1000. Source: gross × rate ÷ (1 + rate), common practice.
 *
 * @example containedTaxMinor(12_000, 200) // 2000
 */
export function containedTaxMinor(grossMinor: number, taxPermille: number): number {
  if (!Number.isSafeInteger(grossMinor) || grossMinor < 0) throw new RangeError('containedTaxMinor needs a whole amount of 0 or more')
  if (!Number.isInteger(taxPermille) || taxPermille < 0 || taxPermille > 1000)
    throw new RangeError('containedTaxMinor needs a rate in whole thousandths from 0 to 1000')
  const whole = BigInt(1000 + taxPermille)
  return Number((BigInt(grossMinor) * BigInt(taxPermille) * 2n + whole) / (2n * whole))
}
