import type { Bench } from '#contract/measurements.ts'
import { engagementMm, type FitFloors, fitOfWeb, fitReadings, type PinOf, scrapFloorMm } from '#core/bench/fit-of-web.ts'
import { newestSet, readingsAt } from '#core/bench/reading-set.ts'
import { hiddenSets } from '#core/bench/second-check.ts'
import type { FitAnswer } from '#core/fit.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { width } from '#core/width.ts'
import { shownTo } from '#server/features/readings/store.ts'
import type { JobBench } from './held.ts'

/** A tonne on the gauge of a press is the weight of a tonne in standard gravity (3rd CGPM, 1901). */
const KN_PER_TONNE = 9.80665

/** Everything measured on a job and what it comes to, as this person may see it. */
export function benchAnswer(held: JobBench, viewerId: string | null): Bench {
  const hidden = hiddenSets(held.record, viewerId)
  const fit = fitAnswer(held)
  const windows = widthAnswer(held)
  return {
    measurements: held.sets.map((kept) => shownTo(hidden, kept)),
    pressings: pressingsAnswer(held),
    welds: held.welds.map((weld) => weld.shown),
    ...(held.kit === null ? {} : { kit: held.kit }),
    ...(fit === undefined ? {} : { fit }),
    ...(windows === undefined ? {} : { width: windows }),
  }
}

function floorsOf({ record, sheet }: JobBench): FitFloors {
  return { scrapShare: record.settings.scrapFloorFactor, sheet }
}

function fitOf(held: JobBench, side: Side, pinOf?: PinOf): FitAnswer | undefined {
  const readings = fitReadings(held.record.sets, side, pinOf)
  const length = engagementMm(held.record.sets, side, held.sheet)
  return readings === null || length === null ? undefined : fitOfWeb(readings, length, floorsOf(held))
}

function fitAnswer(held: JobBench): Bench['fit'] {
  const read = SIDES.map((side) => fitReadings(held.record.sets, side)).filter((readings) => readings !== null)
  if (read.length === 0) return undefined
  const [left, right] = SIDES.map((side) => fitOf(held, side))
  const { shopFloorMm } = held.sheet
  return {
    ...(left === undefined ? {} : { left }),
    ...(right === undefined ? {} : { right }),
    ofOldPin: read.some((readings) => readings.pinOf === 'old'),
    ...(shopFloorMm === undefined ? {} : { shopFloorMm }),
    scrapFloorMm: scrapFloorMm(
      read.flatMap((readings) => readings.boreMm),
      floorsOf(held),
    ),
  }
}

/** Going together the pin of the kit says what the gauge will show; going apart, the pin that came out. */
function pressingsAnswer(held: JobBench): Bench['pressings'] {
  const foretold = (side: Side, pinOf: PinOf) => {
    const force = fitOf(held, side, pinOf)?.pressForceKN
    return force === undefined ? {} : { foretold: { lowTonnes: force.low / KN_PER_TONNE, highTonnes: force.high / KN_PER_TONNE } }
  }
  return held.pressings.map(({ shown }) => ({ ...shown, ...foretold(shown.side, shown.direction === 'together' ? 'kit' : 'old') }))
}

function widthAnswer({ record, sheet }: JobBench): Bench['width'] {
  const { widthMinMm, widthMaxMm, clearanceMinMm, clearanceMaxMm } = sheet
  const stack = newestSet(record.sets, (set) => set.kind === 'stack')
  if (stack === null || widthMinMm === undefined || widthMaxMm === undefined) return undefined
  if (clearanceMinMm === undefined || clearanceMaxMm === undefined) return undefined
  const [webLeftMm, webRightMm, rodWidthMm] = ['web-left', 'web-right', 'rod'].map((place) => readingsAt(stack, place).at(-1))
  if (webLeftMm === undefined || webRightMm === undefined || rodWidthMm === undefined) return undefined
  const now = newestSet(record.sets, (set) => set.kind === 'width' && set.phase !== 'received' && set.values.length > 0)
  return width({
    webLeftMm,
    webRightMm,
    rodWidthMm,
    washersMm: [...readingsAt(stack, 'washer-1'), ...readingsAt(stack, 'washer-2')],
    width: { minMm: widthMinMm, maxMm: widthMaxMm },
    clearance: { minMm: clearanceMinMm, maxMm: clearanceMaxMm },
    ...(now === null ? {} : { widthNowMm: now.values.reduce((sum, value) => sum + value.mm, 0) / now.values.length }),
    ...(now?.temperatureC == null ? {} : { partTemperatureC: now.temperatureC }),
  })
}
