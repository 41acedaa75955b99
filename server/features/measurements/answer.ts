import type { Bench } from '#contract/bench.ts'
import type { EngineBuild } from '#contract/crank-build.ts'
import type { FitStop } from '#contract/fit-stop.ts'
import { engagementMm, type FitFloors, fitOfWeb, fitReadings, type PinOf, scrapFloorMm } from '#core/bench/fit-of-web.ts'
import { gaugeBand, gaugeRead } from '#core/bench/gauge-and-fit.ts'
import { ofJoint } from '#core/bench/joints.ts'
import { newestSet, readingsAt } from '#core/bench/reading-set.ts'
import { hiddenSets } from '#core/bench/second-check.ts'
import { hasSeveralThrows, isThrow, type Joint, jointsOf, jointWords } from '#core/crank-build.ts'
import type { FitAnswer } from '#core/fit.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { width } from '#core/width.ts'
import type { PressingShown } from '#server/features/pressings/store.ts'
import { type OursOfEngine, shownTo } from '#server/features/readings/store.ts'
import type { JobBench } from './held.ts'
import { withOdd } from './odd-of-set.ts'

/** What the book knows beside the job itself. */
export interface BesideTheJob {
  ours: OursOfEngine
  fitStops: readonly FitStop[]
}

/** Everything measured on a job and what it comes to, as this person may see it. */
export function benchAnswer(held: JobBench, { ours, fitStops }: BesideTheJob, viewerId: string | null): Bench {
  const hidden = hiddenSets(held.record, viewerId)
  const fit = hasSeveralThrows(held.build) ? undefined : fitAnswer(held)
  const windows = hasSeveralThrows(held.build) ? undefined : widthAnswer(held)
  const joints = jointsOf(held.build).map((joint) => jointAnswer(held, joint))
  return {
    measurements: held.sets.map((kept) => withOdd(held, ours, kept, shownTo(hidden, kept))),
    pressings: held.pressings.map(({ shown }) => pressingAnswer(held, shown)),
    welds: held.welds.map((weld) => weld.shown),
    ...(held.kit === null ? {} : { kit: held.kit }),
    ...(fit === undefined ? {} : { fit }),
    ...(windows === undefined ? {} : { width: windows }),
    ...(ours.received.length + ours.built.length === 0 ? {} : { ours }),
    ...(fitStops.length === 0 ? {} : { fitStops: [...fitStops] }),
    ...(held.build === null ? {} : { build: held.build as EngineBuild }),
    ...(held.trapped === null ? {} : { trapped: held.trapped }),
    ...(joints.length === 0 ? {} : { joints }),
  }
}

function jointAnswer(held: JobBench, joint: Joint): NonNullable<Bench['joints']>[number] {
  const own = { ...held, record: ofJoint(held.record, joint) }
  const kit = held.kits[joint]
  const fit = fitAnswer(own)
  const windows = isThrow(joint) ? widthAnswer(own) : undefined
  return {
    joint,
    says: jointWords(joint),
    ...(kit === undefined ? {} : { kit }),
    ...(fit === undefined ? {} : { fit }),
    ...(windows === undefined ? {} : { width: windows }),
  }
}

function floorsOf({ record, sheet }: JobBench): FitFloors {
  return { scrapShare: record.settings.scrapFloorFactor, sheet }
}

export function fitOf(held: JobBench, side: Side, pinOf?: PinOf): FitAnswer | undefined {
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

/**
 * A pressing with what the fit foretells of its gauge: going together the pin of the kit says it, going apart the pin that
 * came out.
 */
export function pressingAnswer(held: JobBench, shown: PressingShown): PressingShown {
  const own = shown.joint === undefined ? held : { ...held, record: ofJoint(held.record, shown.joint) }
  const force = fitOf(own, shown.side, shown.direction === 'together' ? 'kit' : 'old')?.pressForceKN
  if (force === undefined) return shown
  const foretold = gaugeBand(force)
  if (shown.peakTonnes === undefined || force.high === 0) return { ...shown, foretold }
  return { ...shown, foretold, gauge: gaugeRead(shown.peakTonnes, foretold) }
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
