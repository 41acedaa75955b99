import { BINARY_DUST_MM, LENGTH_MM, NUMBER, needWithin, PART_TEMPERATURE_C } from '#core/limits.ts'
import { sum } from '#core/numeric/sum.ts'
import { lengthAt20C } from '#core/units.ts'

/** A window that a length has to land in, both ends allowed. */
export interface Window {
  minMm: number
  maxMm: number
}

export interface WidthInput {
  webLeftMm: number
  webRightMm: number
  rodWidthMm: number
  /** Thrust washers of the big end; empty where the rod is guided at the piston. */
  washersMm: readonly number[]
  /** Side clearance that the rod may have. */
  clearance: Window
  /** Width over the webs that the cases take. */
  width: Window
  /** Width over the webs as it measures now. */
  widthNowMm?: number | undefined
  /** Temperature of the crank when that width was measured; 20 °C unless said. */
  partTemperatureC?: number | undefined
}

const METHOD = { name: 'stack of webs, rod and washers at 20 °C', version: '1' } as const

export interface WidthAnswer {
  /** Webs, rod and washers one on another: the width at which the rod has no side clearance. */
  stackMm: number
  /** Widths that meet both windows; null when there is none. */
  window: Window | null
  /** Middle of that window, and the side clearance there. */
  aim?: { widthMm: number; clearanceMm: number }
  possible: boolean
  clearanceNowMm?: number
  /** Width now less the aim: + is still to press, − is pressed too far. */
  toGoMm?: number
  method: typeof METHOD
}

const SUM = 'width'

/**
 * The width to press to, so that the width over the webs and the rod's side clearance both land in their windows.
 *
 * @example width({ webLeftMm: 17.5, webRightMm: 17.5, rodWidthMm: 18, washersMm: [1, 1], clearance: { minMm: 0.4, maxMm: 0.75 }, width: { minMm: 55.5, maxMm: 55.7 } }).window // { minMm: 55.5, maxMm: 55.7 }
 *
 * Lengths mm at 20 °C, none less than 0; the temperature (°C) corrects only the width as it measures now, for steel.
 * Refuses lengths out of range and a window whose ends are the wrong way round (RangeError).
 * Source: width = webs + rod + washers + side clearance, common practice; expansion as `lengthAt20C`.
 */
export function width(input: WidthInput): WidthAnswer {
  checkInput(input)
  const stackMm = sum([input.webLeftMm, input.webRightMm, input.rodWidthMm, ...input.washersMm])
  const window = bothWindows(input.width, { minMm: stackMm + input.clearance.minMm, maxMm: stackMm + input.clearance.maxMm })
  const answer: WidthAnswer = { stackMm, window, possible: window !== null, method: METHOD }
  if (window !== null) {
    const widthMm = (window.minMm + window.maxMm) / 2
    answer.aim = { widthMm, clearanceMm: widthMm - stackMm }
  }
  if (input.widthNowMm === undefined) return answer
  const now = input.partTemperatureC === undefined ? input.widthNowMm : lengthAt20C(input.widthNowMm, input.partTemperatureC)
  answer.clearanceNowMm = now - stackMm
  if (answer.aim !== undefined) answer.toGoMm = now - answer.aim.widthMm
  return answer
}

function bothWindows(one: Window, other: Window): Window | null {
  const minMm = Math.max(one.minMm, other.minMm)
  const maxMm = Math.min(one.maxMm, other.maxMm)
  if (minMm <= maxMm) return { minMm, maxMm }
  // Windows that touch in one decimal figure may miss each other in the last binary digit.
  if (minMm - maxMm <= BINARY_DUST_MM) return { minMm: maxMm, maxMm }
  return null
}

function checkInput(input: WidthInput): void {
  needWithin(SUM, 'webLeftMm', input.webLeftMm, LENGTH_MM)
  needWithin(SUM, 'webRightMm', input.webRightMm, LENGTH_MM)
  needWithin(SUM, 'rodWidthMm', input.rodWidthMm, LENGTH_MM)
  for (const washer of input.washersMm) needWithin(SUM, 'washersMm', washer, LENGTH_MM)
  needWindow('clearance', input.clearance)
  needWindow('width', input.width)
  if (input.widthNowMm !== undefined) needWithin(SUM, 'widthNowMm', input.widthNowMm, LENGTH_MM)
  if (input.partTemperatureC !== undefined) needWithin(SUM, 'partTemperatureC', input.partTemperatureC, PART_TEMPERATURE_C)
}

function needWindow(name: string, window: Window): void {
  needWithin(SUM, `${name}.minMm`, window.minMm, NUMBER)
  needWithin(SUM, `${name}.maxMm`, window.maxMm, NUMBER)
  if (window.minMm > window.maxMm) throw new RangeError(`${SUM} needs ${name}.minMm no more than ${name}.maxMm`)
}
