import { figureFrom, isSince } from '#core/bench/figure-from.ts'
import type { JobRecord } from '#core/bench/job-record.ts'
import { lastPressedAt, type PressingDone, partingOf } from '#core/bench/parting.ts'
import { newestSet, type ReadingKind, type ReadingPhase, type ReadingSet, readingsAt } from '#core/bench/reading-set.ts'
import { type CrankBuild, centresOf, hasSeveralThrows, isThrow, JOINTS, type Joint, jointsOf, throwsOf } from '#core/crank-build.ts'
import type { Figure, JobFacts } from '#core/gates/facts.ts'
import { isLater, latestOf } from '#core/instants.ts'

/** Kinds that are read at one throw, and those that are read of the whole crank. Runout is read of both. */
const OF_A_THROW: readonly ReadingKind[] = ['width', 'clearance', 'play', 'rod', 'stack']
const OF_THE_WHOLE: readonly ReadingKind[] = ['phase', 'centre']

/**
 * The record of a job as if one joint were a crank of its own: what was read, pressed and struck there, with the kit that
 * is in it. Without a joint: what was read of the whole crank, and everything that was pressed and struck.
 *
 * Source: common practice, no source.
 *
 * @example ofJoint(record, 'throw-2').sets // []
 */
export function ofJoint(record: JobRecord, joint: Joint | undefined): JobRecord {
  const isHere = (one: { joint?: Joint }) => one.joint === joint
  if (joint === undefined) return { ...record, sets: record.sets.filter(isHere) }
  const { build: _build, ...rest } = record
  return {
    ...rest,
    sets: record.sets.filter(isHere).map(withoutJoint),
    pressings: record.pressings.filter(isHere),
    moves: record.moves.filter(isHere),
    kitLot: record.kitLots?.[joint] ?? record.kitLot,
  }
}

function withoutJoint({ joint: _joint, ...set }: ReadingSet): ReadingSet {
  return set
}

/**
 * Why a set of readings does not belong where it says: a crank with one throw has no joints to name, one with several is
 * read throw by throw but for its phase, its middle and its two ends as they run. Null where it belongs.
 *
 * Source: common practice, no source.
 *
 * @example jointFault({ kind: 'width', phase: 'built' }, { throws: 2, rodsOnAPin: 1, phaseDeg: [0, 180], trapped: [] }) // 'Say which throw: each has its own.'
 */
export function jointFault(
  set: { kind: ReadingKind; phase: ReadingPhase; joint?: Joint | undefined },
  build: CrankBuild | null,
): string | null {
  const { kind, phase, joint } = set
  if (!hasSeveralThrows(build)) {
    if (joint !== undefined) return 'This crank has one throw: there is no joint to name.'
    return OF_THE_WHOLE.includes(kind) ? 'This crank has one throw: it has no phase and no middle.' : null
  }
  if (joint !== undefined && !jointsOf(build).includes(joint)) return 'The sheet of this engine has no such joint.'
  if (OF_THE_WHOLE.includes(kind)) return joint === undefined ? null : 'This is read of the whole crank, not of one throw.'
  if (kind === 'pin' || kind === 'bore') return joint === undefined ? 'Say which joint: each has its own.' : null
  if (OF_A_THROW.includes(kind)) return joint !== undefined && isThrow(joint) ? null : 'Say which throw: each has its own.'
  if (joint === undefined) return null
  if (!isThrow(joint)) return 'A half on its own shafts is one throw.'
  return phase === 'building' || phase === 'built' ? null : 'This is read of the whole crank, not of one throw.'
}

/** What the gates ask of a crank with several throws; nothing where it has one. The facts of a throw are those of a crank of its own. */
export function severalOf(job: JobRecord, factsOf: (job: JobRecord) => JobFacts): Pick<JobFacts, 'several'> {
  const build = job.build ?? null
  if (!hasSeveralThrows(build)) return {}
  const throws = throwsOf(build).map((joint) => ({ joint, facts: throwFacts(job, joint, factsOf) }))
  const phase = throwsOf(build)
    .slice(1)
    .map((joint, place) => ({ joint, nominalDeg: build.phaseDeg[place + 1]!, read: readOf(job, 'phase', joint.slice(-1)) }))
  const middle = JOINTS.filter((joint) => !isThrow(joint))
    .slice(0, build.throws - 1)
    .map((joint) => ({ joint, read: readOf(job, 'centre', joint.slice(-1)) }))
  const figures = [
    ...throws.flatMap(({ facts }) => [facts.asItStands.width, facts.asItStands.sideClearance]),
    ...phase.map(read),
    ...middle.map(read),
  ]
  return {
    several: {
      throws,
      centres: centresOf(build).map((joint) => ({ joint, parting: partingOf(ofJoint(job, joint).pressings) })),
      phase,
      phaseLimitDeg: build.phaseLimitDeg!,
      middle,
      centreLimitMm: build.centreLimitMm!,
      trappedLeft: trappedLeft(job, build),
      readAt: latestOf(figures.map((figure) => (figure?.read === true ? figure.takenAt : null))),
    },
  }
}

function read<Value>(one: { read: Figure<Value> }): Figure<Value> {
  return one.read
}

/** Pressing a shaft between the throws can move the webs beside it: a width of before says nothing after. */
function throwFacts(job: JobRecord, joint: Joint, factsOf: (job: JobRecord) => JobFacts): JobFacts {
  const isOfAThrow = (pressing: PressingDone) => pressing.joint !== undefined && isThrow(pressing.joint)
  return {
    ...factsOf(ofJoint(job, joint)),
    lastPressingAt: lastPressedAt(job.pressings.filter((one) => one.joint === joint || !isOfAThrow(one))),
  }
}

function readOf(job: JobRecord, kind: 'phase' | 'centre', place: string): Figure<number> {
  const answers = (set: ReadingSet) =>
    set.kind === kind && isSince(set) && (set.notReadBecause !== null || readingsAt(set, place).length > 0)
  return figureFrom(newestSet(job.sets, answers), (set) => readingsAt(set, place).at(-1) ?? null)
}

/** Parts ticked before the crank was last parted are out again. */
function trappedLeft({ trapped, pressings }: JobRecord, build: CrankBuild): string[] {
  const partedAt = lastPressedAt(pressings.filter((pressing) => pressing.direction === 'apart'))
  const ticked = trapped && isLater(trapped.at, partedAt) ? trapped.ticked : []
  return build.trapped.filter(({ what }) => !ticked.includes(what)).map(({ what }) => what)
}
