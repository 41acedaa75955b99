import { isWithin } from '#core/runout-verdict.ts'
import { decimalsOf, figure } from '#web/lib/format.ts'

/**
 * A full swing in mm by the digits of its dial. One digit more where rounding would hide on which side of the limit it lies.
 *
 * @example tirText(0.1217, 0.01) // '0.12'
 * @example tirText(0.0236, 0.01, 0.02) // '0.024'
 */
export function tirText(tirMm: number, stepMm: number, limitMm?: number): string {
  const decimals = decimalsOf(stepMm)
  const written = figure(tirMm, decimals)
  if (limitMm === undefined || isWithin(tirMm, limitMm) === isWithin(Number(written), limitMm)) return written
  return figure(tirMm, decimals + 1)
}
