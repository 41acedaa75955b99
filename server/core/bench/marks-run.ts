import { wrapDegrees } from '#core/clock-angle.ts'

/** How the marks on a rim run, seen from the right-hand end. */
export const MARKS_RUN = ['clockwise', 'other-way'] as const
export type MarksRun = (typeof MARKS_RUN)[number]

/**
 * The clock angle of a mark, or the mark of a clock angle, where the marks run so: the other way 3 and 9 change places, and
 * 12 and 6 stay. The book keeps clock angles only; it is its own inverse.
 *
 * @example clockOfMark(90, 'other-way') // 270
 * @example clockOfMark(45, 'clockwise') // 45
 *
 * Degrees, answered within [0, 360). Source: the mirror of a circle about the pin.
 */
export function clockOfMark(markDeg: number, run: MarksRun): number {
  return wrapDegrees(run === 'other-way' ? -markDeg : markDeg)
}
