import type { RunoutSetUp } from '#core/bench/reading.ts'
import type { ReadingPhase, ReadingSet } from '#core/bench/reading-set.ts'
import { lastStirredAt } from '#core/bench/second-check.ts'
import type { Joint } from '#core/crank-build.ts'
import { millisecondsOf } from '#core/instants.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'

export interface SetToBe {
  phase: ReadingPhase
  setUp: RunoutSetUp
  personId: string
  doneAt: string
  joint?: Joint | undefined
}

/** Sets so long apart were not read in one sitting. Common practice, no source. */
const SITTING_MS = 60 * 60_000

/**
 * Full swings of the sets that one person read just before, in the very set-up of a set to be, with nothing done between: what
 * they differ by is how that set-up repeats. Give it the sets of one dial only.
 *
 * @example setsBefore({ sets: [], pressings: [], moves: [], welds: [] }, { phase: 'built', setUp: record.sets.find((set) => set.setUp).setUp, personId: 'jonas', doneAt: '2026-11-24T10:00:00Z' }) // { left: [], right: [] }
 *
 * mm. Left out: sets struck out, of another phase, hand or set-up, read before the last blow, pressing or weld, or more than
 * an hour before. Source: common practice, no source.
 */
export function setsBefore(
  job: Parameters<typeof lastStirredAt>[0] & { sets: readonly ReadingSet[] },
  toBe: SetToBe,
): Record<Side, number[]> {
  const stirredAt = lastStirredAt(job)
  const until = millisecondsOf(toBe.doneAt)
  const since = Math.max(until - SITTING_MS, stirredAt === null ? Number.NEGATIVE_INFINITY : millisecondsOf(stirredAt))
  const row = job.sets.filter((set) => {
    const at = millisecondsOf(set.doneAt)
    const isItsOwn =
      set.kind === 'runout' && set.joint === toBe.joint && !set.isStruck && phaseOf(set) === phaseOf(toBe) && set.personId === toBe.personId
    return isItsOwn && at >= since && at <= until && set.setUp !== null && isSameSetUp(set.setUp, toBe.setUp)
  })
  const [left, right] = SIDES.map((side) => row.flatMap(({ runout }) => runout?.[side]?.tirMm ?? []))
  return { left: left ?? [], right: right ?? [] }
}

/** The set that is called true is read in one row with those on the way to it. */
function phaseOf({ phase }: { phase: ReadingPhase }): ReadingPhase {
  return phase === 'building' ? 'built' : phase
}

function isSameSetUp(one: RunoutSetUp, other: RunoutSetUp): boolean {
  return (['held', 'supportLeftMm', 'supportRightMm', 'dialLeftMm', 'dialRightMm', 'surfaceLeft', 'surfaceRight', 'cold'] as const).every(
    (name) => one[name] === other[name],
  )
}
