import type { Bench } from '#contract/bench.ts'
import type { Engine } from '#contract/engines.ts'
import type { Joint } from '#core/crank-build.ts'

/** What is measured and pressed at one joint, as if it were a crank of its own. */
export function benchAt(bench: Bench, joint: Joint | undefined): Bench {
  if (joint === undefined) return bench
  const own = bench.joints?.find((one) => one.joint === joint)
  const { fit: _fit, width: _width, joints: _joints, fitStops, ...rest } = bench
  const stops = fitStops?.filter((one) => one.joint === joint) ?? []
  return {
    ...rest,
    measurements: bench.measurements.filter((one) => one.joint === joint),
    pressings: bench.pressings.filter((one) => one.joint === joint),
    ...(own?.kit === undefined ? {} : { kit: own.kit }),
    ...(own?.fit === undefined ? {} : { fit: own.fit }),
    ...(own?.width === undefined ? {} : { width: own.width }),
    ...(stops.length === 0 ? {} : { fitStops: stops }),
  }
}

/** The same without what was read of single throws; of a crank with one throw everything. */
export function benchOfWhole(bench: Bench): Bench {
  return { ...bench, measurements: bench.measurements.filter((one) => one.joint === undefined) }
}

/** The sheet for one throw on its own two shafts: it lies on other supports, and no limit of the sheet is for them. */
export function sheetAt(sheet: Engine, joint: Joint | undefined): Engine {
  if (joint === undefined) return sheet
  const { build: _build, ...rest } = sheet
  return { ...rest, figures: sheet.figures.filter(({ name }) => name === 'strokeMm' || name === 'rimRadiusMm') }
}
