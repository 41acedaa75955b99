import { BINARY_DUST_MM, COUNT, LENGTH_MM, NUMBER, needListOf, needWhole, needWithin } from '#core/limits.ts'
import { fitLine } from '#core/numeric/line.ts'

/** One fit of a web: how often it had been pressed together before, and how tight its pin then was. */
export interface WebFit {
  pressings: number
  /** Pin less bore, on the diameter, mm. */
  interferenceMm: number
}

/** How many more pressings, after each of which the fit is still at the floor or over it. */
export interface PressingsLeft {
  /** With the wear at its worst. */
  low: number
  /** With the wear at its best; absent where the trend may be none at all. */
  high?: number
}

export interface WebLifeInput {
  /** One a pressing, in any order. */
  fits: readonly WebFit[]
  scrapFloorMm: number
  shopFloorMm?: number | undefined
}

/** Line: through three fits or more. Working figures: common practice, while there are fewer. Nothing: no fit is known. */
export const WEB_LIFE_BASES = ['line', 'working-figures', 'nothing'] as const
export type WebLifeBasis = (typeof WEB_LIFE_BASES)[number]

export const WEB_LIFE_METHOD = { name: 'straight line of fit on pressings, or working figures', version: '1' } as const

export interface WebLifeAnswer {
  basis: WebLifeBasis
  /** Fits counted. */
  count: number
  /** The newest fit, mm. */
  lastMm?: number
  /** What one pressing changes, mm; less than 0 is lost. Absent without a line. */
  slopeMm?: number
  slopeStandardErrorMm?: number
  /** Absent where the fit is not known, or the line loses nothing. */
  untilShopFloor?: PressingsLeft
  untilScrapFloor?: PressingsLeft
  method: typeof WEB_LIFE_METHOD
}

/** What a clean re-press costs: the first more, for it flattens the peaks; a galled one costs 0.01, or the web. From memory. */
export const RE_PRESS_MM = { first: { least: 0.002, most: 0.004 }, later: { least: 0.001, most: 0.002 }, galled: 0.01 } as const

const LINE_LEAST = 3
/** Nobody presses a web so often; further than this no forecast reaches. */
export const PRESSINGS_MOST = 99

/**
 * The life of a web: what its fit loses with every pressing, and how many pressings remain until the floor of the shop and
 * the scrap floor. From three fits at three different counts of pressings a straight line through them, its slope one
 * standard error steeper and shallower for the two ends of the answer; under three no trend is claimed and the working
 * figures count: 0.002 to 0.004 mm for the first re-press, 0.001 to 0.002 for a later one.
 *
 * @example webLife({ fits: [{ pressings: 1, interferenceMm: 0.11 }, { pressings: 2, interferenceMm: 0.107 }, { pressings: 3, interferenceMm: 0.104 }], scrapFloorMm: 0.077 }).untilScrapFloor // { low: 9, high: 9 }
 * @example webLife({ fits: [{ pressings: 1, interferenceMm: 0.085 }], scrapFloorMm: 0.077 }).untilScrapFloor // { low: 3, high: 7 }
 *
 * Lengths mm. Each fit is that of the pin of its own job, so that a pin at the top of its tolerance lifts one point. Refuses
 * what is no number and counts less than 0 (RangeError).
 * Source: the line as `fitLine`; the working figures from memory.
 */
export function webLife(input: WebLifeInput): WebLifeAnswer {
  check(input)
  const { scrapFloorMm, shopFloorMm } = input
  const fits = [...input.fits].sort((one, other) => one.pressings - other.pressings)
  const last = fits.at(-1)
  if (last === undefined) return { basis: 'nothing', count: 0, method: WEB_LIFE_METHOD }
  const answer = { count: fits.length, lastMm: last.interferenceMm, method: WEB_LIFE_METHOD }
  if (new Set(fits.map((fit) => fit.pressings)).size < LINE_LEAST) {
    const left = (floorMm: number) => leftByWorkingFigures(last, floorMm)
    return { basis: 'working-figures', ...answer, ...bothFloors(left, shopFloorMm, scrapFloorMm) }
  }
  const line = fitLine(
    fits.map((fit) => fit.pressings),
    fits.map((fit) => fit.interferenceMm),
  )
  const nowMm = line.intercept + line.slope * last.pressings
  const left = (floorMm: number) => leftByLine(nowMm - floorMm, line.slope, line.slopeStandardError)
  return {
    basis: 'line',
    ...answer,
    slopeMm: line.slope,
    slopeStandardErrorMm: line.slopeStandardError,
    ...bothFloors(left, shopFloorMm, scrapFloorMm),
  }
}

function bothFloors(left: (floorMm: number) => PressingsLeft | null, shopFloorMm: number | undefined, scrapFloorMm: number) {
  const shop = shopFloorMm === undefined ? null : left(shopFloorMm)
  const scrap = left(scrapFloorMm)
  return { ...(shop === null ? {} : { untilShopFloor: shop }), ...(scrap === null ? {} : { untilScrapFloor: scrap }) }
}

/** Null where the line loses nothing: then it foretells no end. */
function leftByLine(overMm: number, slopeMm: number, doubtMm: number): PressingsLeft | null {
  if (overMm < -BINARY_DUST_MM) return { low: 0, high: 0 }
  if (slopeMm >= -BINARY_DUST_MM) return null
  const low = whole(overMm / -(slopeMm - doubtMm))
  const shallow = slopeMm + doubtMm
  return shallow >= -BINARY_DUST_MM ? { low } : { low, high: whole(overMm / -shallow) }
}

function leftByWorkingFigures(last: WebFit, floorMm: number): PressingsLeft {
  const over = last.interferenceMm - floorMm
  if (over < -BINARY_DUST_MM) return { low: 0, high: 0 }
  const { first, later } = RE_PRESS_MM
  const left = (firstMm: number, laterMm: number) => {
    if (last.pressings > 1) return whole(over / laterMm)
    return over < firstMm - BINARY_DUST_MM ? 0 : 1 + whole((over - firstMm) / laterMm)
  }
  return { low: left(first.most, later.most), high: left(first.least, later.least) }
}

/** Whole pressings, a binary hair short of one counting as one. */
function whole(pressings: number): number {
  return Math.min(PRESSINGS_MOST, Math.floor(pressings + 1e-6))
}

const SUM = 'webLife'

function check({ fits, scrapFloorMm, shopFloorMm }: WebLifeInput): void {
  needListOf(SUM, 'fits', fits)
  for (const { pressings, interferenceMm } of fits) {
    needWhole(SUM, 'pressings', pressings, COUNT)
    needWithin(SUM, 'interferenceMm', interferenceMm, NUMBER)
  }
  needWithin(SUM, 'scrapFloorMm', scrapFloorMm, LENGTH_MM)
  if (shopFloorMm !== undefined) needWithin(SUM, 'shopFloorMm', shopFloorMm, LENGTH_MM)
}
