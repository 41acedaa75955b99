import type { JobRecord } from '#core/bench/job-record.ts'
import { lastPressedAt } from '#core/bench/parting.ts'
import { newestSet, type ReadingSet } from '#core/bench/reading-set.ts'
import { isLater, latestOf, millisecondsOf } from '#core/instants.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { isEnd, type JobKind, nextStep } from '#core/steps.ts'
import type { TruingAction } from '#core/truing-moves.ts'

const MOVES_A_WEB: readonly TruingAction[] = ['strike', 'squeeze', 'wedge']

/** When a blow, a wedge or a squeeze last moved the webs; null where none did. */
export function lastMovedAt(moves: JobRecord['moves']): string | null {
  return latestOf(moves.filter((move) => MOVES_A_WEB.includes(move.action)).map((move) => move.doneAt))
}

/** When anything last moved the webs: a pressing, a blow, a wedge, a squeeze, a weld. */
export function lastStirredAt(job: Pick<JobRecord, 'pressings' | 'moves' | 'welds'>): string | null {
  return latestOf([lastPressedAt(job.pressings), lastMovedAt(job.moves), latestOf(job.welds.map((weld) => weld.doneAt))])
}

/** Whether a set is one of the readings that the second check compares with: of a report, those as it came in. */
function isFirstReading(kind: JobKind, set: ReadingSet): boolean {
  if (set.kind !== 'runout' || set.joint !== undefined) return false
  return kind === 'check-and-report' ? set.phase === 'received' : set.phase === 'building' || set.phase === 'built'
}

/** The newest set that has read one end, or that says why it was not read. */
export function firstOf(job: Pick<JobRecord, 'kind' | 'sets'>, side: Side): ReadingSet | null {
  return newestSet(job.sets, (set) => isFirstReading(job.kind, set) && (set.notReadBecause !== null || set.runout?.[side] !== undefined))
}

export interface SecondCheck {
  /** The first reading; where the ends were last read in two sets, the later one. */
  first: ReadingSet | null
  /** The sets that the first reading is made of. */
  firstSets: readonly ReadingSet[]
  second: ReadingSet | null
  third: ReadingSet | null
}

/**
 * The sets of the second check as it stands: the newest second reading that was written down after the first, and the
 * newest third after that. A set struck out does not count, and a first reading taken anew makes a new check. Which came
 * before which is told by the order in which the book got them, because the two hands may read off two clocks.
 *
 * Source: common practice, no source.
 *
 * @example secondCheck({ kind: 'rebuild', sets: [] }) // { first: null, firstSets: [], second: null, third: null }
 */
export function secondCheck(job: Pick<JobRecord, 'kind' | 'sets'>): SecondCheck {
  const { sets } = job
  const firstSets = [...new Set(SIDES.map((side) => firstOf(job, side)).filter((set) => set !== null))]
  const first = lastWritten(firstSets, sets)
  const second = lastWritten(after(first, sets, 'second'), sets)
  const third = second === null ? null : lastWritten(after(second, sets, 'third'), sets)
  return { first, firstSets, second, third }
}

function after(earlier: ReadingSet | null, sets: readonly ReadingSet[], phase: 'second' | 'third'): ReadingSet[] {
  const from = earlier === null ? 0 : sets.indexOf(earlier) + 1
  return sets.slice(from).filter((set) => set.kind === 'runout' && set.joint === undefined && set.phase === phase && !set.isStruck)
}

function lastWritten(some: readonly ReadingSet[], inOrder: readonly ReadingSet[]): ReadingSet | null {
  return some.reduce<ReadingSet | null>((last, set) => (last === null || inOrder.indexOf(set) > inOrder.indexOf(last) ? set : last), null)
}

/** Whether a job stands where a second reading is what comes next: true, or for a report measured. */
export function standsBeforeSigned(job: Pick<JobRecord, 'kind' | 'state'>): boolean {
  return !isEnd(job.state) && nextStep(job.kind, job.state) === 'signed'
}

/**
 * Whether the first reading was out of sight when a second was written down: the job stood waiting for it, and no other
 * second reading, not even one struck out since, had been written down and had opened the first to everybody.
 *
 * Source: two persons reading blind, common practice, no source.
 */
export function wasFirstHidden(check: SecondCheck, job: Pick<JobRecord, 'sets' | 'awaitedSecond'>): boolean {
  const { first, second } = check
  if (second === null) return false
  const since = first === null ? 0 : job.sets.indexOf(first) + 1
  const isTheOpening = job.sets.slice(since).find((set) => set.kind === 'runout' && set.phase === 'second') === second
  const at = second.recordedAt
  return isTheOpening && job.awaitedSecond.some(({ from, until }) => !isLater(from, at) && (until === null || !isLater(at, until)))
}

/**
 * The readings that are kept from everybody but the person who took them, while a job waits for its second reading: all
 * that say how it stands now, struck-out ones too, because each of them would give the first reading away. Nothing is
 * hidden once the second is in, and nothing that was read before the last blow, pressing or weld. viewerId null: somebody
 * who took none of them.
 *
 * Source: two persons reading blind, common practice, no source.
 *
 * @example hiddenSets({ kind: 'rebuild', state: 'together', sets: [], pressings: [], moves: [], welds: [] }, 'jonas').size // 0
 */
export function hiddenSets(
  job: Pick<JobRecord, 'kind' | 'state' | 'sets' | 'pressings' | 'moves' | 'welds'>,
  viewerId: string | null,
): ReadonlySet<string> {
  if (!standsBeforeSigned(job) || secondCheck(job).second !== null) return new Set()
  const stirredAt = lastStirredAt(job)
  const since = stirredAt === null ? Number.NEGATIVE_INFINITY : millisecondsOf(stirredAt)
  const secret = job.sets.filter((set) => isFirstReading(job.kind, set) && set.personId !== viewerId && millisecondsOf(set.doneAt) >= since)
  return new Set(secret.map((set) => set.id))
}
