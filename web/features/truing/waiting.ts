import type { Measurement } from '#contract/measurements.ts'
import type { Check, Truing } from '#contract/truing.ts'
import type { Joint } from '#core/crank-build.ts'
import { isLater } from '#core/instants.ts'
import type { StruckHere } from '#web/lib/outbox/kept-strike.ts'
import { waitingShown, withWaiting } from '#web/lib/outbox/shown.ts'

const SETS = /\/measurements$/

/** The truing as the book answers it, with the sets and moves that lie on this tablet and are not in the book yet. */
export function layTruing(jobId: string, truing: Truing, joint?: Joint): Truing {
  const struck = new Set(waitingShown<StruckHere>(/^\/api\/measurements\/.*\/strike$/, jobId).map((one) => one.id))
  const isKept = ({ id }: { id: string }) => !struck.has(id)
  const sets = waitingShown<Measurement>(SETS, jobId).filter(
    (set) => set.runout !== undefined && set.joint === joint && (set.phase === 'building' || set.phase === 'built') && isKept(set),
  )
  const made = waitingShown<Truing['moves'][number]>(/\/moves$/, jobId).filter((move) => joint === undefined || move.joint === joint)
  if (sets.length === 0 && made.length === 0 && struck.size === 0) return truing
  const moves = withWaiting(truing.moves, made)
  // Of the sets before, only what they came to lies here: once the last is struck out it is read again, or the book is asked.
  const last = latest([...(truing.last === undefined ? [] : [truing.last]).filter(isKept), ...sets])
  const isStirred = made.some((one) => last === undefined || isLater(one.occurredAt, last.occurredAt))
  const isNew = last !== undefined && last.id !== truing.last?.id
  const stale = isStirred || (!isNew && truing.stale)
  const { advice: _before, figures: _then, last: _was, ...rest } = truing
  const sum = last?.runout?.sum
  return {
    ...rest,
    sets: withWaiting(truing.sets.filter(isKept), sets.map(line)),
    moves,
    stale,
    ...(last === undefined ? {} : { last }),
    ...(sum === undefined || stale || last?.runout?.closes.agree !== true ? {} : { advice: sum }),
    ...(last?.runout === undefined ? {} : { figures: last.runout }),
  }
}

function latest(sets: readonly Measurement[]): Measurement | undefined {
  return sets.reduce<Measurement | undefined>(
    (found, set) => (found === undefined || !isLater(found.occurredAt, set.occurredAt) ? set : found),
    undefined,
  )
}

function line({ id, phase, occurredAt: at, by, runout, setup }: Measurement): Truing['sets'][number] {
  return {
    id,
    phase,
    at,
    by,
    ...(setup?.marksRun === undefined ? {} : { marksRun: setup.marksRun }),
    ...(runout?.left === undefined ? {} : { leftTirMm: runout.left.tirMm }),
    ...(runout?.right === undefined ? {} : { rightTirMm: runout.right.tirMm }),
  }
}

export const SET_WAITS_HERE = 'Your set is saved on this tablet and not yet in the book. The two are compared once it is.'

/** A second reading on this tablet is compared by the book alone: what was read first is not known here. */
export function layCheck(jobId: string, check: Check): Check {
  const mine = waitingShown<Measurement>(SETS, jobId).filter((set) => set.phase === check.next)
  if (mine.length === 0) return check
  return {
    ...check,
    mayRead: false,
    because: SET_WAITS_HERE,
  }
}
