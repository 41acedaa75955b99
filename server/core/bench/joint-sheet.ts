import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import type { Joint } from '#core/crank-build.ts'

/**
 * The figures of a sheet that hold for a set: of one throw on its own two shafts only those of its shape, since it lies on
 * other supports and no limit of the sheet is for them. Lengths mm. Source: common practice, no source.
 *
 * @example sheetOf({ strokeMm: 54.6, supportLeftMm: 82 }, 'throw-1') // { strokeMm: 54.6 }
 */
export function sheetOf(sheet: EngineSheet, joint: Joint | undefined): EngineSheet {
  if (joint === undefined) return sheet
  const { strokeMm, rimRadiusMm } = sheet
  return { ...(strokeMm === undefined ? {} : { strokeMm }), ...(rimRadiusMm === undefined ? {} : { rimRadiusMm }) }
}
