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
}

/** One reading to be taken. */
export interface Cell {
  side: Side
  place: 'left' | 'right' | 'left-again' | 'right-again' | 'left-swing' | 'right-swing'
  /** The mark under the dial; a swing is read over the whole turn. */
  atDeg: number
  /** Head of its column: `3`, `12 again`, `full swing`. */
  name: string
}

export interface Mark {
  deg: number
  name: string
  again: boolean
}

/** The marks in the order in which they come under the dial. */
export function marksOf(readAt: Exclude<ReadAt, 'swing'>): Mark[] {
  const step = readAt === 'four' ? 90 : 45
  const round = Array.from({ length: 360 / step }, (_, place) => ({ deg: place * step, name: markName(place * step), again: false }))
  return [...round, { deg: 0, name: '12 again', again: true }]
}

/** The ends that can be read; a main held true in a lathe is not. */
export function endsToRead(held: WayOfHolding): readonly Side[] {
  const still = heldTrue(held)
  return SIDES.filter((side) => side !== still)
}

/** Every reading of a set in the order in which it is taken. */
export function cellsOf({ readAt, held, dials }: ReadPlan): Cell[] {
  const ends = endsToRead(held)
  if (readAt === 'swing') return ends.map((side) => ({ side, place: `${side}-swing` as const, atDeg: 0, name: 'full swing' }))
  const cell = (side: Side, mark: Mark): Cell => ({
    side,
    place: mark.again ? (`${side}-again` as const) : side,
    atDeg: mark.deg,
    name: mark.name,
  })
  const marks = marksOf(readAt)
  return dials === 'two'
    ? marks.flatMap((mark) => ends.map((side) => cell(side, mark)))
    : ends.flatMap((side) => marks.map((mark) => cell(side, mark)))
}
