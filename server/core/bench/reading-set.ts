import type { Reading, RunoutSetUp } from '#core/bench/reading.ts'
import type { RunoutFigures } from '#core/bench/runout-set.ts'
import type { Joint } from '#core/crank-build.ts'
import { millisecondsOf } from '#core/instants.ts'

/** What is read on a crank and its parts. Phase is an angle in degrees; all others are lengths. */
export const READING_KINDS = ['width', 'clearance', 'play', 'rod', 'pin', 'bore', 'stack', 'runout', 'phase', 'centre'] as const
export type ReadingKind = (typeof READING_KINDS)[number]

/** Received: as it came in. Kit: parts before pressing. Building: on the way. Built: as it stands. Second, third: the second check. */
export const READING_PHASES = ['received', 'kit', 'building', 'built', 'second', 'third'] as const
export type ReadingPhase = (typeof READING_PHASES)[number]

/** One set of readings as the book keeps it: taken in one go by one person, never edited. Lengths mm, instants RFC 3339 UTC. */
export interface ReadingSet {
  id: string
  kind: ReadingKind
  /** Of which joint of a crank with several throws; absent: of the whole crank. */
  joint?: Joint
  phase: ReadingPhase
  personId: string
  /** When it was read by the clock of the bench, and never later than it was written down. */
  doneAt: string
  recordedAt: string
  values: readonly Reading[]
  /** Why it was deliberately not read; values is empty then. */
  notReadBecause: string | null
  temperatureC: number | null
  setUp: RunoutSetUp | null
  /** What a runout set came to when it was stored. */
  runout: RunoutFigures | null
  isStruck: boolean
}

/**
 * The newest set that is not struck out and answers the question; of two read at the same instant the one written down
 * later. Null where there is none. The sets are handed over in the order in which they were written down.
 *
 * Source: common practice, no source.
 *
 * @example newestSet([], (set) => set.kind === 'width') // null
 */
export function newestSet(sets: readonly ReadingSet[], answers: (set: ReadingSet) => boolean): ReadingSet | null {
  let newest: ReadingSet | null = null
  for (const set of sets) {
    if (set.isStruck || !answers(set)) continue
    if (newest === null || millisecondsOf(set.doneAt) >= millisecondsOf(newest.doneAt)) newest = set
  }
  return newest
}

/** The readings of a set at one place, in the order in which they were taken. @example readingsAt({ values: [{ place: '0', mm: 64 }] }, '0') // [64] */
export function readingsAt(set: Pick<ReadingSet, 'values'>, place: string): number[] {
  return set.values.filter((value) => value.place === place).map((value) => value.mm)
}
