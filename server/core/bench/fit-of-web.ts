import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import { newestSet, type ReadingSet, readingsAt } from '#core/bench/reading-set.ts'
import { type FitAnswer, fit as fitSum } from '#core/fit.ts'
import type { Figure, PinFit } from '#core/gates/facts.ts'
import { isLater, latestOf } from '#core/instants.ts'
import type { Side } from '#core/runout-verdict.ts'

/** Whose pin was measured: the one of the new kit (read in the phase kit) or the old one that came out. */
export type PinOf = 'kit' | 'old'

/** The readings that make the fit of one web. */
export interface FitReadings {
  pinOf: PinOf
  pinMm: number[]
  boreMm: number[]
  /** When the fit was known: when the later of pin and bore was read. */
  pinAt: string
  boreAt: string
}

const PIN_PLACES = ['0', '90'] as const
const BORE_PLACES = ['outer-0', 'outer-90', 'inner-0', 'inner-90'] as const

/**
 * The readings of pin and bore that stand for one web: the newest of each that is not struck out. Where a pin of the kit is
 * measured it counts before the old one, whichever was read later; which of the two is wanted may be said. Null where one
 * of pin and bore is not read.
 *
 * Source: common practice, no source.
 *
 * @example fitReadings([], 'left') // null
 */
export function fitReadings(sets: readonly ReadingSet[], side: Side, pinOf?: PinOf): FitReadings | null {
  const bore = newestSet(sets, (set) => set.kind === 'bore' && boreOf(set, side).length > 0)
  const pinFrom = (wanted: PinOf) =>
    newestSet(sets, (set) => set.kind === 'pin' && (set.phase === 'kit') === (wanted === 'kit') && pinEnd(set, side).length > 0)
  const kitPin = pinOf === 'old' ? null : pinFrom('kit')
  const pin = kitPin ?? (pinOf === 'kit' ? null : pinFrom('old'))
  if (bore === null || pin === null) return null
  return {
    pinOf: kitPin === null ? 'old' : 'kit',
    pinMm: pinEnd(pin, side),
    boreMm: boreOf(bore, side),
    pinAt: pin.doneAt,
    boreAt: bore.doneAt,
  }
}

function pinEnd(set: ReadingSet, side: Side): number[] {
  return PIN_PLACES.flatMap((place) => readingsAt(set, `${side}-${place}`))
}

function boreOf(set: ReadingSet, side: Side): number[] {
  return BORE_PLACES.flatMap((place) => readingsAt(set, `${side}-${place}`))
}

export interface FitFloors {
  /** Share of the pin diameter under which a web is scrap. */
  scrapShare: number
  sheet: EngineSheet
}

/** The scrap floor of a web: the share of the pin Ø of the sheet, or of the greatest bore where the sheet has none, mm. */
export function scrapFloorMm(boreMm: readonly number[], { scrapShare, sheet }: FitFloors): number {
  return scrapShare * (sheet.pinDiameterMm ?? Math.max(0, ...boreMm))
}

/**
 * How long the pin sits in a web: the bore length of the sheet, or else the newest measured thickness of that web beside
 * the bore. Null where neither is known: what the fit holds can then not be said, only how tight it is.
 */
export function engagementMm(sets: readonly ReadingSet[], side: Side, sheet: EngineSheet): number | null {
  if (sheet.engagementMm !== undefined) return sheet.engagementMm
  const stack = newestSet(sets, (set) => set.kind === 'stack' && readingsAt(set, `web-${side}`).length > 0)
  return stack === null ? null : (readingsAt(stack, `web-${side}`).at(-1) ?? null)
}

/** The fit sum of one web with the floors of the shop. Lengths mm; refuses what fit refuses. */
export function fitOfWeb(readings: FitReadings, lengthMm: number, floors: FitFloors): FitAnswer {
  return fitSum({
    pinMm: readings.pinMm,
    boreMm: readings.boreMm,
    engagementMm: lengthMm,
    floorMm: scrapFloorMm(readings.boreMm, floors),
    shopFloorMm: floors.sheet.shopFloorMm,
  })
}

/**
 * The fit of one web as the gates ask for it. Taken when the bore was read, or the pin where that came later; but a bore
 * that was read before the webs were last parted makes the fit as old as itself.
 *
 * Source: common practice, no source.
 *
 * @example fitFigure([], 'left', { scrapShare: 0.0022, sheet: {} }, null) // null
 */
export function fitFigure(sets: readonly ReadingSet[], side: Side, floors: FitFloors, partedAt: string | null): Figure<PinFit> {
  const readings = fitReadings(sets, side)
  const because = newestSet(sets, (set) => set.kind === 'bore' || set.kind === 'pin')?.notReadBecause ?? null
  if (readings === null) return because === null ? null : { read: false, because }
  // How tight it is does not ask for the length; only the force does, and no gate asks for that.
  const { interferenceMm, verdict } = fitOfWeb(readings, 0, floors)
  const { pinAt, boreAt } = readings
  const takenAt = isLater(boreAt, partedAt) ? (latestOf([boreAt, pinAt]) ?? boreAt) : boreAt
  return { read: true, takenAt, value: { interferenceMm, verdict, pinIsOfKit: readings.pinOf === 'kit' } }
}
