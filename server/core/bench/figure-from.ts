import type { ReadingSet } from '#core/bench/reading-set.ts'
import type { Figure } from '#core/gates/facts.ts'

/** Whether a set says how the crank stands since it came in: parts before pressing say nothing of that. */
export function isSince(set: ReadingSet): boolean {
  return set.phase !== 'received' && set.phase !== 'kit'
}

/** A set as a figure; what says null of a set that was read was not among its places. */
export function figureFrom<Value>(set: ReadingSet | null, value: (set: ReadingSet) => Value | null): Figure<Value> {
  if (set === null) return null
  if (set.notReadBecause !== null) return { read: false, because: set.notReadBecause }
  const found = value(set)
  return found === null ? null : { read: true, takenAt: set.doneAt, value: found }
}
