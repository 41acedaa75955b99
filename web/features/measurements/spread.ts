/** The width at its four places, mm. */
export type WidthRead = Readonly<Partial<Record<'0' | '90' | '180' | '270', number>>>

const DUST_MM = 1e-9

/**
 * What the spread of the four widths says: the webs open or pinched opposite the pin, the pin cocked across it. A
 * difference of no more than one step of the micrometer says nothing. Where the micrometer sat is not written down, so the
 * difference is said and no angle.
 *
 * Source: common practice, no source.
 *
 * @example spreadWords({ '0': 63.99, '180': 64.06 }, 0.01) // ['0.07 wider opposite the pin than at it: the webs are open.']
 */
export function spreadWords(width: WidthRead, stepMm: number): string[] {
  const words: string[] = []
  const by = (one: number | undefined, other: number | undefined) => (one === undefined || other === undefined ? undefined : one - other)
  const open = by(width['180'], width['0'])
  const cocked = by(width['90'], width['270'])
  if (open !== undefined && isSaid(open, stepMm)) {
    words.push(
      open > 0
        ? `${size(open)} wider opposite the pin than at it: the webs are open.`
        : `${size(open)} narrower opposite the pin than at it: the webs are pinched.`,
    )
  }
  if (cocked !== undefined && isSaid(cocked, stepMm))
    words.push(`${size(cocked)} wider at ${cocked > 0 ? '90' : '270'} than at ${cocked > 0 ? '270' : '90'}: the pin is cocked.`)
  if (words.length === 0 && open !== undefined && cocked !== undefined) words.push('Even all round, as near as this micrometer tells.')
  return words
}

function isSaid(differenceMm: number, stepMm: number): boolean {
  return Math.abs(differenceMm) > stepMm + DUST_MM
}

function size(differenceMm: number): string {
  return String(Number(Math.abs(differenceMm).toFixed(4)))
}
