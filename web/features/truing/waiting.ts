import { type Measurement, measurement } from '#contract/measurements.ts'
import { type Check, move, type Truing } from '#contract/truing.ts'
import { isLater } from '#core/instants.ts'
import { waitingShown, withWaiting } from '#web/lib/outbox/shown.ts'

/** The truing as the book answers it, with the sets and moves that lie on this tablet and are not in the book yet. */
export function layTruing(jobId: string, truing: Truing): Truing {
  const sets = waitingShown(measurement, jobId).filter(
    (set) => set.runout !== undefined && (set.phase === 'building' || set.phase === 'built'),
  )
  const made = waitingShown(move, jobId)
  if (sets.length === 0 && made.length === 0) return truing
  const moves = withWaiting(truing.moves, made)
  const last = latest([...(truing.last === undefined ? [] : [truing.last]), ...sets])
  const isStirred = made.some((one) => last === undefined || isLater(one.occurredAt, last.occurredAt))
  const isNew = last !== undefined && last.id !== truing.last?.id
  const stale = isStirred || (!isNew && truing.stale)
  const { advice: _before, figures: _then, last: _was, ...rest } = truing
  const sum = last?.runout?.sum
  return {
    ...rest,
    sets: withWaiting(truing.sets, sets.map(line)),
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

function line({ id, phase, occurredAt: at, by, runout }: Measurement): Truing['sets'][number] {
  return {
    id,
    phase,
    at,
    by,
    ...(runout?.left === undefined ? {} : { leftTirMm: runout.left.tirMm }),
    ...(runout?.right === undefined ? {} : { rightTirMm: runout.right.tirMm }),
  }
}

/** A second reading on this tablet is compared by the book alone: what was read first is not known here. */
export function layCheck(jobId: string, check: Check): Check {
  const mine = waitingShown(measurement, jobId).filter((set) => set.phase === check.next)
  if (mine.length === 0) return check
  return {
    ...check,
    mayRead: false,
    because: 'Your set is saved on this tablet and not yet in the book. The two are compared once it is.',
  }
}
