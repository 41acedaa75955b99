import type { RunoutSetUp } from '#core/bench/reading.ts'
import type { EndLimits } from '#core/gates/facts.ts'
import { isWithin, PLACE_TOLERANCE_MM, type Side } from '#core/runout-verdict.ts'

/** The figures of a model sheet, by name, mm; what the sheet does not have is absent. */
export type EngineSheet = Partial<Readonly<Record<EngineSheetFigure, number>>>
type EngineSheetFigure =
  | 'strokeMm'
  | 'widthMinMm'
  | 'widthMaxMm'
  | 'clearanceMinMm'
  | 'clearanceMaxMm'
  | 'pinDiameterMm'
  | 'engagementMm'
  | 'shopFloorMm'
  | 'supportLeftMm'
  | 'supportRightMm'
  | 'dialLeftMm'
  | 'dialRightMm'
  | 'limitMakerLeftMm'
  | 'limitMakerRightMm'
  | 'limitHouseLeftMm'
  | 'limitHouseRightMm'
  | 'rimRadiusMm'

export type LimitsAtDial =
  /** The limits of the sheet, carried to where this dial stands, and as the sheet gives them at its own place. */
  | { kind: 'carried'; limits: EndLimits; given: EndLimits & { dialMm: number } }
  /** The sheet names no supports, or no place for this dial: its limit is for no place. */
  | { kind: 'no-place' }
  /** The crank did not lie as the sheet says: its limits say nothing about this reading. */
  | { kind: 'not-to-be-compared' }

const NAMES = {
  left: { dial: 'dialLeftMm', house: 'limitHouseLeftMm', maker: 'limitMakerLeftMm' },
  right: { dial: 'dialRightMm', house: 'limitHouseRightMm', maker: 'limitMakerRightMm' },
} as const

/**
 * The limits of one end at the place where its dial stands. On the same supports every reading of an end grows with its
 * dial's distance, whatever the fault, so that limit × distance ÷ distance on the sheet carries it exactly; with other
 * supports it carries a swing only, and the answer is not to be compared. V-blocks, rollers and centres rest the crank on
 * two supports; a lathe holds one main, and the cases mix in their own error: neither is compared.
 *
 * Lengths mm. shopLimitMm is the house limit where the sheet gives none. Refuses (RangeError) dials at 0.
 * Source: two straight shafts on fixed supports, as truing-faults.ts; within half a millimetre a support is the same one:
 * common practice, no source.
 *
 * @example limitsAtDial('left', { held: 'v-blocks-bare', supportLeftMm: 44, supportRightMm: 44, dialLeftMm: 90, dialRightMm: 50, cold: true }, { supportLeftMm: 44, supportRightMm: 44, dialLeftMm: 45, limitHouseLeftMm: 0.02 }, 0.03).limits.houseMm // 0.04
 */
export function limitsAtDial(side: Side, setUp: RunoutSetUp, sheet: EngineSheet, shopLimitMm: number): LimitsAtDial {
  const names = NAMES[side]
  const dialMm = setUp[names.dial]
  const sheetDialMm = sheet[names.dial]
  if (dialMm === 0 || sheetDialMm === 0) throw new RangeError('limitsAtDial needs dials that do not stand at their support')
  if (sheetDialMm === undefined || sheet.supportLeftMm === undefined || sheet.supportRightMm === undefined) return { kind: 'no-place' }
  const sameSupports = isSameSupport(setUp.supportLeftMm, sheet.supportLeftMm) && isSameSupport(setUp.supportRightMm, sheet.supportRightMm)
  const restsOnBoth = !setUp.held.startsWith('lathe') && setUp.held !== 'cases'
  const share = dialMm / sheetDialMm
  if (!(sameSupports && restsOnBoth && share > 0)) return { kind: 'not-to-be-compared' }
  const makerMm = sheet[names.maker] ?? null
  const houseMm = sheet[names.house] ?? shopLimitMm
  return {
    kind: 'carried',
    limits: { houseMm: houseMm * share, makerMm: makerMm === null ? null : makerMm * share },
    given: { houseMm, makerMm, dialMm: sheetDialMm },
  }
}

function isSameSupport(oneMm: number, otherMm: number): boolean {
  return isWithin(Math.abs(oneMm - otherMm), PLACE_TOLERANCE_MM)
}
