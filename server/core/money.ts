/** One line of a quote or a bill. */
export interface PricedLine {
  /** Without tax, in minor units (pence, cents), a whole number; below 0 for something taken off. */
  netMinor: number
  /** Hundredths of a per cent: 2000 is 20 %. */
  taxBasisPoints: number
}

export interface TaxAtRate {
  taxBasisPoints: number
  netMinor: number
  taxMinor: number
}

export interface Totals {
  netMinor: number
  taxMinor: number
  /** What the customer pays. */
  grossMinor: number
  /** One row for each rate in use, least rate first. */
  byRate: TaxAtRate[]
}

const BASIS_POINTS = 10_000

/**
 * Totals of a quote with tax. The lines of one rate are added up first and the tax is worked once on their total, rounded
 * half away from zero: one rounding for each rate, so that the lines of a long quote do not gather pennies. All in whole
 * minor units, without fractions on the way. No lines make a total of 0.
 *
 * Refuses (RangeError) amounts that are not whole or too great to be exact (over 2^53), and rates that are not a whole
 * number of basis points from 0 to 10,000. Source: common practice, no source; some places ask for the tax line by line.
 *
 * @example quoteTotals([{ netMinor: 28_000, taxBasisPoints: 2000 }, { netMinor: 6_333, taxBasisPoints: 2000 }]) // { netMinor: 34333, taxMinor: 6867, grossMinor: 41200, byRate: [{ taxBasisPoints: 2000, netMinor: 34333, taxMinor: 6867 }] }
 */
export function quoteTotals(lines: readonly PricedLine[]): Totals {
  const netByRate = new Map<number, bigint>()
  for (const { netMinor, taxBasisPoints } of lines) {
    if (!Number.isSafeInteger(netMinor)) throw new RangeError('quoteTotals needs amounts in whole minor units')
    if (!Number.isInteger(taxBasisPoints) || taxBasisPoints < 0 || taxBasisPoints > BASIS_POINTS) {
      throw new RangeError(`quoteTotals needs tax in whole basis points from 0 to ${BASIS_POINTS}`)
    }
    netByRate.set(taxBasisPoints, (netByRate.get(taxBasisPoints) ?? 0n) + BigInt(netMinor))
  }
  const byRate = [...netByRate]
    .sort(([one], [other]) => one - other)
    .map(([taxBasisPoints, net]) => ({ taxBasisPoints, netMinor: exactly(net), taxMinor: exactly(taxOn(net, taxBasisPoints)) }))
  const netMinor = exactly(byRate.reduce((sum, row) => sum + BigInt(row.netMinor), 0n))
  const taxMinor = exactly(byRate.reduce((sum, row) => sum + BigInt(row.taxMinor), 0n))
  return { netMinor, taxMinor, grossMinor: exactly(BigInt(netMinor) + BigInt(taxMinor)), byRate }
}

function taxOn(net: bigint, taxBasisPoints: number): bigint {
  const whole = BigInt(BASIS_POINTS)
  const tax = net * BigInt(taxBasisPoints)
  const size = tax < 0n ? -tax : tax
  const rounded = (size + whole / 2n) / whole
  return tax < 0n ? -rounded : rounded
}

function exactly(amount: bigint): number {
  const number = Number(amount)
  if (!Number.isSafeInteger(number)) throw new RangeError('quoteTotals needs amounts that add up to less than 2^53')
  return number
}
