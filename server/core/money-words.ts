/**
 * An amount in minor units as it is written on paper and in the history: figures, a point, and the code of the currency,
 * with as many decimals as that currency has.
 *
 * Refuses (RangeError) an amount that is not whole, and a currency that is not three letters.
 * Source: ISO 4217 for the codes; the decimals are those of the platform's currency data (Unicode CLDR).
 *
 * @example moneyWords(26_800, 'EUR') // '268.00 EUR'
 */
export function moneyWords(minor: number, currency: string): string {
  if (!Number.isSafeInteger(minor)) throw new RangeError('moneyWords needs an amount in whole minor units')
  const { maximumFractionDigits: decimals = 2 } = new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions()
  const figures = String(Math.abs(minor)).padStart(decimals + 1, '0')
  const whole = figures.slice(0, figures.length - decimals)
  const rest = decimals === 0 ? '' : `.${figures.slice(figures.length - decimals)}`
  return `${minor < 0 ? '−' : ''}${whole}${rest} ${currency}`
}
