import type { Check, Truing } from '#contract/truing.ts'
import { checkState } from '#core/bench/check-state.ts'
import { hiddenSets, lastStirredAt } from '#core/bench/second-check.ts'
import { isLater, millisecondsOf } from '#core/instants.ts'
import { PATHS } from '#core/steps.ts'
import type { JobBench } from '#server/features/measurements/store.ts'
import { type KeptReadings, shownTo } from '#server/features/readings/store.ts'
import type { EndSwings, KeptMove } from './store.ts'

/** The truing bench of a job as this person may see it. */
export function truingAnswer(held: JobBench, viewerId: string): Truing {
  const hidden = hiddenSets(held.record, viewerId)
  const sets = setsOfThisTruing(held)
  const moves = held.moves.filter((move) => !isLater(held.truingSince, move.doneAt))
  const last = sets.at(-1)
  const stirredAt = lastStirredAt(held.record)
  const stale = last !== undefined && stirredAt !== null && !isLater(last.set.doneAt, stirredAt)
  const figures = last === undefined || hidden.has(last.set.id) ? undefined : last.shown.runout
  return {
    sets: sets.map((kept) => setLine(kept, hidden)),
    moves: moves.map((move) => ({ ...move.shown, ...cameOf(move, { sets, moves: held.moves, hidden }) })),
    ...(last === undefined ? {} : { last: shownTo(hidden, last) }),
    stale,
    ...(figures?.sum === undefined || !figures.closes.agree || stale ? {} : { advice: figures.sum }),
    ...(figures === undefined ? {} : { figures }),
  }
}

/** The sets that say how the truing goes: since the webs were called together, and of other kinds since the crank came in. */
function setsOfThisTruing(held: JobBench): KeptReadings[] {
  const isRebuild = PATHS[held.kind].includes('together')
  const sets = held.sets.filter(({ set }) => {
    if (set.kind !== 'runout' || set.isStruck || set.notReadBecause !== null) return false
    return isRebuild ? set.phase !== 'received' && !isLater(held.truingSince, set.doneAt) : true
  })
  return sets.sort((one, other) => millisecondsOf(one.set.doneAt) - millisecondsOf(other.set.doneAt))
}

function setLine({ shown }: KeptReadings, hidden: ReadonlySet<string>): Truing['sets'][number] {
  const { id, phase, occurredAt: at, by, runout } = shown
  if (hidden.has(id)) return { id, phase, at, by, hidden: true }
  return {
    id,
    phase,
    at,
    by,
    ...(runout?.left === undefined ? {} : { leftTirMm: runout.left.tirMm }),
    ...(runout?.right === undefined ? {} : { rightTirMm: runout.right.tirMm }),
  }
}

/** What was read after a move and before the next one; two moves without a reading between have come to one end together. */
function cameOf(
  move: KeptMove,
  bench: { sets: readonly KeptReadings[]; moves: readonly KeptMove[]; hidden: ReadonlySet<string> },
): { came?: EndSwings } {
  const after = bench.sets.find(({ set }) => isLater(set.doneAt, move.doneAt))
  if (after === undefined) return {}
  const later = bench.moves.slice(bench.moves.indexOf(move) + 1)
  if (later.some((other) => isLater(after.set.doneAt, other.doneAt))) return {}
  const { left, right } = after.shown.runout ?? {}
  if (left === undefined || right === undefined || bench.hidden.has(after.set.id)) return {}
  return { came: { leftTirMm: left.tirMm, rightTirMm: right.tirMm } }
}

/** The second check of a job as its reader may see it. */
export function checkAnswer(held: JobBench, viewerId: string): Check {
  const { check, next, mayRead, because, agree, says } = checkState(held.record, viewerId)
  const hidden = hiddenSets(held.record, viewerId)
  const shown = (id: string | undefined) => {
    const kept = held.sets.find((one) => one.set.id === id)
    return kept === undefined ? undefined : shownTo(hidden, kept)
  }
  const [first, second, third] = [shown(check.first?.id), shown(check.second?.id), shown(check.third?.id)]
  return {
    mayRead,
    ...(because === null ? {} : { because }),
    next,
    ...(first === undefined ? {} : { first }),
    ...(second === undefined ? {} : { second }),
    ...(third === undefined ? {} : { third }),
    ...(agree === null ? {} : { agree }),
    says,
  }
}
