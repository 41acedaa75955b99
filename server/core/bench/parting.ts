import type { Joint } from '#core/crank-build.ts'
import type { Figure, Parting } from '#core/gates/facts.ts'
import { latestOf, millisecondsOf } from '#core/instants.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'

/** One pressing of one web, as the book keeps it. */
export interface PressingDone {
  direction: 'apart' | 'together'
  side: Side
  /** Of which joint of a crank with several throws. */
  joint?: Joint
  peakTonnes: number | null
  /** Why the gauge was not read; null where it was. */
  notReadBecause: string | null
  galling: 'none' | 'light' | 'heavy' | null
  crack: boolean | null
  webMark: string | null
  doneAt: string
  isStruck: boolean
}

/**
 * The last parting as the gates ask for it: the newest pressing apart of each web that is not struck out, with what was
 * seen of it, and the newest mark of each web. Both webs looked at for galling and cracks make a look, one parting later
 * that look is gone; a crack in either web is said at once. Null while no web is pressed apart and no crack is seen.
 * Pressings are handed over in the order in which they were written down.
 *
 * Source: common practice, no source.
 *
 * @example partingOf([]) // null
 */
export function partingOf(pressings: readonly PressingDone[]): Parting | null {
  const standing = pressings.filter((pressing) => !pressing.isStruck)
  const isCracked = SIDES.some((side) => newest(standing, side, (one) => one.crack !== null)?.crack === true)
  const apart = standing.filter((pressing) => pressing.direction === 'apart')
  const at = latestOf((apart.length > 0 ? apart : standing).map((pressing) => pressing.doneAt))
  if (at === null || (apart.length === 0 && !isCracked)) return null
  return {
    at,
    peakTonnes: { left: peakOf(apart, 'left'), right: peakOf(apart, 'right') },
    look: lookOf(apart, isCracked),
    webMarks: marksOf(standing),
  }
}

/** When a web was last pressed, either way; null where none was. */
export function lastPressedAt(pressings: readonly PressingDone[]): string | null {
  return latestOf(pressings.filter((pressing) => !pressing.isStruck).map((pressing) => pressing.doneAt))
}

function newest(pressings: readonly PressingDone[], side: Side, says: (pressing: PressingDone) => boolean): PressingDone | undefined {
  let found: PressingDone | undefined
  for (const pressing of pressings) {
    if (pressing.side !== side || !says(pressing)) continue
    if (found === undefined || millisecondsOf(pressing.doneAt) >= millisecondsOf(found.doneAt)) found = pressing
  }
  return found
}

function peakOf(apart: readonly PressingDone[], side: Side): Figure<number> {
  const last = newest(apart, side, () => true)
  if (last === undefined) return null
  if (last.peakTonnes === null) return { read: false, because: last.notReadBecause ?? '' }
  return { read: true, takenAt: last.doneAt, value: last.peakTonnes }
}

function lookOf(apart: readonly PressingDone[], isCracked: boolean): Parting['look'] {
  const last = SIDES.map((side) => newest(apart, side, () => true))
  const galling = last.some((look) => look?.galling === 'light' || look?.galling === 'heavy')
  if (isCracked) return { galling, crack: true }
  return last.every((look) => (look?.galling ?? null) !== null && (look?.crack ?? null) !== null) ? { galling, crack: false } : null
}

function marksOf(pressings: readonly PressingDone[]): string | null {
  const marks = SIDES.map((side) => newest(pressings, side, (one) => (one.webMark ?? '').trim() !== '')?.webMark)
  return marks.every((mark) => mark !== undefined) ? marks.join(', ') : null
}
