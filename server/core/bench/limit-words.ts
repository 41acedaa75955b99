import { BINARY_DUST_MM } from '#core/limits.ts'

/** A limit and where the dial stands to which it belongs, mm: + outboard of its support, − inboard. */
export interface PlacedLimit {
  limitMm: number
  dialMm: number
}

/**
 * A limit where this dial stands, beside where it was given: both figures and both places, or one where they are the same.
 *
 * @example limitWords({ limitMm: 0.02, dialMm: 45 }, { limitMm: 0.0311, dialMm: 70 }, String) // '0.02 at 45, here 0.0311 at 70'
 * @example limitWords({ limitMm: 0.02, dialMm: 45 }, { limitMm: 0.02, dialMm: 45 }, String) // 'here 0.02'
 *
 * mm; without `given`, as for a set stored before that was kept, only the limit here is said. Common practice, no source.
 */
export function limitWords(given: PlacedLimit | undefined, here: PlacedLimit, text: (mm: number) => string): string {
  if (given === undefined || isSamePlace(given, here)) return `here ${text(here.limitMm)}`
  return `${text(given.limitMm)} at ${far(given)}, here ${text(here.limitMm)} at ${far(here)}`
}

/** Whether two limits count for the same place of the dial, but for the last binary digit. @example isSamePlace({ dialMm: 45 }, { dialMm: 45 }) // true */
export function isSamePlace(one: Pick<PlacedLimit, 'dialMm'>, other: Pick<PlacedLimit, 'dialMm'>): boolean {
  return Math.abs(one.dialMm - other.dialMm) <= BINARY_DUST_MM
}

function far({ dialMm }: PlacedLimit): string {
  return `${Number(Math.abs(dialMm).toFixed(2))}${dialMm < 0 ? ' in' : ''}`
}
