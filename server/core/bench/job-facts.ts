import { figureFrom, isSince } from '#core/bench/figure-from.ts'
import { type FitFloors, fitFigure, fitReadings, scrapFloorMm } from '#core/bench/fit-of-web.ts'
import type { JobRecord } from '#core/bench/job-record.ts'
import { ofJoint, severalOf } from '#core/bench/joints.ts'
import { limitsAtDial } from '#core/bench/limits-at-dial.ts'
import { lastPressedAt, partingOf } from '#core/bench/parting.ts'
import { newestSet, type ReadingKind, type ReadingSet, readingsAt } from '#core/bench/reading-set.ts'
import { firstOf, lastMovedAt, type SecondCheck, secondCheck, wasFirstHidden } from '#core/bench/second-check.ts'
import {
  type EndLimits,
  type EndSwing,
  type Figure,
  type JobFacts,
  WIDTH_PLACES,
  type WidthPlaces,
  type Window,
} from '#core/gates/facts.ts'
import { latestOf } from '#core/instants.ts'
import { BINARY_DUST_MM } from '#core/limits.ts'
import { giveOrTakeFor, SIDES, type Side } from '#core/runout-verdict.ts'

/**
 * What the gates ask of a job, from what the book holds of it: always the newest readings that are not struck out.
 *
 * As received: the readings of that phase. As it stands: the newest since, the readings of the second check among them for
 * width and side clearance. The limits are those of the model sheet as it is now, carried to where the dials stood. Refuses
 * (RangeError) what the sums refuse. A crank with several throws has the facts of each throw beside those of the whole.
 * Source: common practice, no source.
 *
 * @example factsOf({ ...record, kitLot: 'A-2417' }).kitLot // 'A-2417'
 */
export function factsOf(job: JobRecord): JobFacts {
  const { kind, whyNow, sheet, settings } = job
  const { sets } = ofJoint(job, undefined)
  const floors: FitFloors = { scrapShare: settings.scrapFloorFactor, sheet }
  const parting = partingOf(job.pressings)
  const partedAt = parting?.at ?? null
  const bores = SIDES.flatMap((side) => fitReadings(sets, side)?.boreMm ?? [])
  const scrapMm = scrapFloorMm(bores, floors)
  const clearance = windowOf(sheet.clearanceMinMm, sheet.clearanceMaxMm)
  const check = secondCheck(job)
  return {
    kind,
    whyNow,
    received: {
      width: widthFigure(newestOf(sets, 'width', isReceived)),
      runout: bySide((side) => swingFigure(receivedOf(sets, side), side)),
      bigEndPlay: playFigure(newestOf(sets, 'play', isReceived)),
    },
    quote: job.quote,
    parting,
    kitLot: job.kitLot,
    fit: bySide((side) => fitFigure(sets, side, floors, partedAt)),
    fitFloors: { shopMm: sheet.shopFloorMm ?? scrapMm, scrapMm },
    oilHole: job.oilHole,
    asItStands: {
      width: widthFigure(newestOf(sets, 'width', isSince)),
      sideClearance: clearanceFigure(newestOf(sets, 'clearance', isSince), clearance),
      runout: bySide((side) => endFigure(job, side)),
    },
    windows: { width: windowOf(sheet.widthMinMm, sheet.widthMaxMm), sideClearance: clearance },
    limits: bySide((side) => endLimits(job, side)),
    lastPressingAt: lastPressedAt(job.pressings),
    lastMoveAt: lastMovedAt(job.moves),
    weldedAt: latestOf(job.welds.map((weld) => weld.doneAt)),
    ...secondAndThird(job, check),
    giveOrTakeMm: bySide((side) => giveOrTake(job, check, side)),
    overdueInstruments: job.overdueInstruments,
    doubtedInstruments: job.doubtedInstruments,
    certificate: job.certificate,
    boxListChecked: job.box?.isComplete ?? false,
    paid: job.paid,
    ownersWord: job.box?.ownersWord ?? null,
    settings: { samePersonMayCheck: settings.samePersonMayCheck },
    ...severalOf(job, factsOf),
  }
}

function bySide<Value>(of: (side: Side) => Value): Record<Side, Value> {
  return { left: of('left'), right: of('right') }
}

function isReceived(set: ReadingSet): boolean {
  return set.phase === 'received'
}

function newestOf(sets: readonly ReadingSet[], kind: ReadingKind, when: (set: ReadingSet) => boolean): ReadingSet | null {
  return newestSet(sets, (set) => set.kind === kind && when(set))
}

function receivedOf(sets: readonly ReadingSet[], side: Side): ReadingSet | null {
  return newestOf(sets, 'runout', (set) => isReceived(set) && (set.notReadBecause !== null || set.runout?.[side] !== undefined))
}

function widthFigure(set: ReadingSet | null): Figure<WidthPlaces> {
  return figureFrom(set, (read) => {
    const places: { -readonly [Place in keyof WidthPlaces]: WidthPlaces[Place] } = {}
    for (const place of WIDTH_PLACES) {
      const reading = readingsAt(read, String(place)).at(-1)
      if (reading !== undefined) places[place] = reading
    }
    return places
  })
}

function playFigure(set: ReadingSet | null): Figure<number> {
  return figureFrom(set, (read) => readingsAt(read, 'up-down').at(-1) ?? null)
}

/** Felt from both sides, the rod has the clearance that stands worse in the window. */
function clearanceFigure(set: ReadingSet | null, window: Window | null): Figure<number> {
  return figureFrom(set, (read) => {
    const felt = SIDES.flatMap((side) => readingsAt(read, side))
    const middle = window === null ? 0 : (window.minMm + window.maxMm) / 2
    return felt.reduce<number | null>((worst, one) => {
      const isWorse = worst === null || Math.abs(one - middle) > Math.abs(worst - middle) + BINARY_DUST_MM
      return isWorse ? one : worst
    }, null)
  })
}

function swingFigure(set: ReadingSet | null, side: Side): Figure<number> {
  return figureFrom(set, (read) => read.runout?.[side]?.tirMm ?? null)
}

/** The end as the builder last read it: that is the first reading of the second check too. A report has none. */
function builtOf(job: JobRecord, side: Side): ReadingSet | null {
  return firstOf({ kind: 'rebuild', sets: job.sets }, side)
}

function endFigure(job: JobRecord, side: Side): Figure<EndSwing> {
  return figureFrom(builtOf(job, side), (read) => {
    const tirMm = read.runout?.[side]?.tirMm
    if (tirMm === undefined || read.setUp === null) return null
    const { kind } = limitsAtDial(side, read.setUp, job.sheet, job.settings.houseLimitMm)
    return { tirMm, atStatedPlace: kind !== 'not-to-be-compared', cold: read.setUp.cold }
  })
}

/** The limits of one end where its dial stood when it was last read. */
function endLimits(job: JobRecord, side: Side): EndLimits | null {
  const setUp = builtOf(job, side)?.setUp ?? null
  if (setUp === null) return null
  const limits = limitsAtDial(side, setUp, job.sheet, job.settings.houseLimitMm)
  return limits.kind === 'carried' ? limits.limits : null
}

function secondAndThird(job: JobRecord, check: SecondCheck): Pick<JobFacts, 'secondSet' | 'thirdSet'> {
  const { firstSets, second, third } = check
  const swings = (set: ReadingSet) => bySide((side) => swingFigure(set, side))
  return {
    secondSet: second && {
      takenAt: second.doneAt,
      byAnotherPerson: firstSets.every((set) => set.personId !== second.personId),
      firstHidden: wasFirstHidden(check, job),
      tirMm: swings(second),
    },
    thirdSet: third && { takenAt: third.doneAt, tirMm: swings(third) },
  }
}

/** Two readings are worth no more than the coarser of them; before any, a hundredth dial on bare seats is taken. */
function giveOrTake(job: JobRecord, check: SecondCheck, side: Side): number {
  const name = side === 'left' ? 'leftMm' : 'rightMm'
  const read = [firstOf(job, side), check.second, check.third].flatMap((set) => set?.runout?.giveOrTake[name] ?? [])
  return read.length > 0 ? Math.max(...read) : giveOrTakeFor({ instrumentStepMm: 0.01, support: 'bare-seats' })
}

function windowOf(minMm: number | undefined, maxMm: number | undefined): Window | null {
  return minMm === undefined || maxMm === undefined ? null : { minMm, maxMm }
}
