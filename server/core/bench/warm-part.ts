import { BINARY_DUST_MM, LENGTH_MM, needWithin, PART_TEMPERATURE_C } from '#core/limits.ts'
import { lengthAt20C, REFERENCE_TEMPERATURE_C } from '#core/units.ts'

/** How far from 20 °C a part may be before its width is said to be read warm, or cold. Common practice, no source. */
export const WARM_K = 3

export interface WarmPart {
  /** Part less 20 °C. */
  awayK: number
  /** What the figure is at 20 °C. */
  at20Mm: number
  /** By how much it reads wide; less than 0: narrow. */
  wideMm: number
}

/**
 * What a width read off a part that is not at 20 °C is worth, for steel; null within 3 K, both ways.
 *
 * @example warmPart(60, 60).wideMm.toFixed(3) // '0.028'
 *
 * Length mm, temperature −100 to 1000 °C; refuses what is outside (RangeError). Source: ISO 1 for 20 °C; JCGM 100:2008 H.1
 * for the coefficient; the 3 K common practice, no source.
 */
export function warmPart(readMm: number, temperatureC: number): WarmPart | null {
  needWithin('warmPart', 'readMm', readMm, LENGTH_MM)
  needWithin('warmPart', 'temperatureC', temperatureC, PART_TEMPERATURE_C)
  const awayK = temperatureC - REFERENCE_TEMPERATURE_C
  if (Math.abs(awayK) <= WARM_K + BINARY_DUST_MM) return null
  const at20Mm = lengthAt20C(readMm, temperatureC)
  return { awayK, at20Mm, wideMm: readMm - at20Mm }
}
