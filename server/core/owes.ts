/** Money of one job, in whole minor units. */
export interface JobMoney {
  /** Total of the last quote that was said yes to; null where none was. */
  agreedMinor: number | null
  deposits: readonly number[]
  payments: readonly number[]
  givenBack: readonly number[]
}

/**
 * What is agreed and not paid; 0 where it is paid, null where nothing was agreed yet. Deposits count as paid, money given
 * back does not. Paying too much owes nothing.
 *
 * Refuses (RangeError) amounts that are below 0 or not whole. Source: common practice, no source.
 *
 * @example owesMinor({ agreedMinor: 26_800, deposits: [10_000], payments: [], givenBack: [] }) // 16800
 */
export function owesMinor(money: JobMoney): number | null {
  const taken = sumOf(money.deposits) + sumOf(money.payments) - sumOf(money.givenBack)
  if (money.agreedMinor === null) return null
  return Math.max(0, sumOf([money.agreedMinor]) - taken)
}

function sumOf(amounts: readonly number[]): number {
  return amounts.reduce((sum, amount) => {
    if (!Number.isSafeInteger(amount) || amount < 0) throw new RangeError('owesMinor needs whole amounts of 0 or more')
    return sum + amount
  }, 0)
}
