import type { WebLife, WebOfLife } from '#contract/web-life.ts'
import { scrapFloorMm } from '#core/bench/fit-of-web.ts'
import { webFits } from '#core/bench/web-fits.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { webLife } from '#core/web-life.ts'
import type { CrankWithJobs } from './store.ts'

/** The life of both webs of a crank, from all our jobs on it. */
export function webLifeAnswer(crank: CrankWithJobs): WebLife {
  const { shopFloorMm } = crank.sheet
  const scrapMm = scrapFloorMm(boresOf(crank), crank)
  return {
    crankId: crank.id,
    ...(crank.joint === undefined ? {} : { joint: crank.joint, joints: [...crank.throws] }),
    engine: crank.engine,
    engineId: crank.engineId,
    ...(crank.engineNumber === null ? {} : { engineNumber: crank.engineNumber }),
    ...(crank.marks === null ? {} : { marks: crank.marks }),
    welded: crank.welded,
    pressedBefore: crank.pressedBefore,
    ...(shopFloorMm === undefined ? {} : { shopFloorMm }),
    ...(scrapMm === 0 ? {} : { scrapFloorMm: scrapMm }),
    left: webOf(crank, 'left', scrapMm),
    right: webOf(crank, 'right', scrapMm),
  }
}

/** Bores stand in where the sheet has no pin diameter to take the scrap floor of. */
function boresOf({ jobs }: CrankWithJobs): number[] {
  const sets = jobs.flatMap((job) => job.sets).filter((set) => set.kind === 'bore' && !set.isStruck)
  return sets.flatMap((set) => set.values.filter((value) => SIDES.some((side) => value.place.startsWith(side))).map((value) => value.mm))
}

function webOf({ jobs, pressedBefore, renewed, sheet }: CrankWithJobs, side: Side, scrapMm: number): WebOfLife {
  const fits = webFits(jobs, side, pressedBefore, renewed[side] ?? null)
  const { basis, slopeMm, slopeStandardErrorMm, untilShopFloor, untilScrapFloor, method } = webLife({
    fits,
    scrapFloorMm: scrapMm,
    shopFloorMm: sheet.shopFloorMm,
  })
  const since = renewed[side]?.at
  return {
    fits: fits.map(({ galling, ...fit }) => ({ ...fit, ...(galling === null ? {} : { galling }) })),
    ...(since === undefined ? {} : { renewedAt: since }),
    basis,
    ...(slopeMm === undefined ? {} : { slopeMm }),
    ...(slopeStandardErrorMm === undefined ? {} : { slopeStandardErrorMm }),
    ...(untilShopFloor === undefined ? {} : { untilShopFloor }),
    ...(untilScrapFloor === undefined ? {} : { untilScrapFloor }),
    method,
  }
}
