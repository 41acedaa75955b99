import { clockOfMark, type MarksRun } from '#core/bench/marks-run.ts'
import { heldTrue } from '#core/bench/runout-set.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { markName } from '#web/features/truing/words.ts'

/** How an end is read: at four marks or eight, or as its full swing and where it reads highest. */
export const READ_AT = ['four', 'eight', 'swing'] as const
export type ReadAt = (typeof READ_AT)[number]

/** Two dials read both ends in one turn; with one, an end is read after the other. */
export const DIALS = ['two', 'one'] as const
export type Dials = (typeof DIALS)[number]

/** What decides which readings a set has, and in which order. */
export interface ReadPlan {
  readAt: ReadAt
  held: WayOfHolding
  dials: Dials
  marksRun?: MarksRun | undefined
  /** Marks left out because a keyway lies there. */
  skippedLeftDeg?: readonly number[] | undefined
  skippedRightDeg?: readonly number[] | undefined
}

/** One reading to be taken. */
export interface Cell {
  side: Side
  place: 'left' | 'right' | 'left-again' | 'right-again' | 'left-swing' | 'right-swing'
  /** The mark under the dial, as a clock angle; a swing is read over the whole turn. */
  atDeg: number
  /** Head of its column: `3`, `12 again`, `full swing`. */
  name: string
}

export interface Mark {
  deg: number
  name: string
  again: boolean
}

/** The marks in the order in which they are named on the rim, each with its clock angle. */
export function marksOf({ readAt, marksRun = 'clockwise' }: Pick<ReadPlan, 'readAt' | 'marksRun'>): Mark[] {
  const step = readAt === 'eight' ? 45 : 90
  const round = Array.from({ length: 360 / step }, (_, place) => ({
    deg: clockOfMark(place * step, marksRun),
    name: markName(place * step),
    again: false,
  }))
  return [...round, { deg: 0, name: '12 again', again: true }]
}

/** The ends that can be read; a main held true in a lathe is not. */
export function endsToRead(held: WayOfHolding): readonly Side[] {
  const still = heldTrue(held)
  return SIDES.filter((side) => side !== still)
}

export function isSkipped(plan: Pick<ReadPlan, 'skippedLeftDeg' | 'skippedRightDeg'>, side: Side, mark: Mark): boolean {
  const skipped = side === 'left' ? plan.skippedLeftDeg : plan.skippedRightDeg
  return !mark.again && (skipped ?? []).includes(mark.deg)
}

/** Every reading of a set in the order in which it is taken; a mark that is skipped for a keyway has none. */
export function cellsOf(plan: ReadPlan): Cell[] {
  const { readAt, held, dials } = plan
  const ends = endsToRead(held)
  if (readAt === 'swing') return ends.map((side) => ({ side, place: `${side}-swing` as const, atDeg: 0, name: 'full swing' }))
  const cell = (side: Side, mark: Mark): Cell => ({
    side,
    place: mark.again ? (`${side}-again` as const) : side,
    atDeg: mark.deg,
    name: mark.name,
  })
  const marks = marksOf(plan)
  const read = (side: Side, mark: Mark) => (isSkipped(plan, side, mark) ? [] : [cell(side, mark)])
  return dials === 'two'
    ? marks.flatMap((mark) => ends.flatMap((side) => read(side, mark)))
    : ends.flatMap((side) => marks.flatMap((mark) => read(side, mark)))
}
