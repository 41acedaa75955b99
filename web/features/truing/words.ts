import { clockOfMark, type MarksRun } from '#core/bench/marks-run.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import type { Side } from '#core/runout-verdict.ts'
import type { TruingAction } from '#core/truing-moves.ts'

/** How the crank lies, short, for a chip. */
export const HELD_SHORT: Readonly<Record<WayOfHolding, string>> = {
  'v-blocks-bare': 'V-blocks, bare seats',
  'v-blocks-bearings': 'V-blocks, on its bearings',
  'rollers-bare': 'rollers, bare seats',
  'rollers-bearings': 'rollers, on its bearings',
  centres: 'between centres',
  'lathe-left': 'lathe, left main held',
  'lathe-right': 'lathe, right main held',
  cases: 'in its case halves',
}

/** The two ends as the engine knows them; right is the drive end, from which the marks are counted. */
export const SIDE_WORDS: Readonly<Record<Side, string>> = { left: 'left, ignition', right: 'right, drive' }

export const FORCES = ['light', 'firm', 'hard'] as const
export type Force = (typeof FORCES)[number]

/** What was done, as it is said afterwards. */
const DONE_WORDS: Readonly<Record<TruingAction, string>> = {
  strike: 'struck',
  squeeze: 'squeezed',
  wedge: 'wedged',
  part: 'to part again',
  leave: 'left alone',
}

/** A place on the rim as the clock says it. @example markName(90) // '3' @example markName(45) // '1½' */
export function markName(deg: number): string {
  const halves = Math.round((((deg % 360) + 360) % 360) / 15) % 24
  const hour = Math.floor(halves / 2)
  return `${hour === 0 ? 12 : hour}${halves % 2 === 1 ? '½' : ''}`
}

/** A move in the past: `struck the right web at 3, light`. */
export function moveWords(move: {
  action: TruingAction
  half?: Side | undefined
  atDeg?: number | undefined
  force?: Force | undefined
  /** How the marks ran by which it was made. */
  marksRun?: MarksRun | undefined
}): string {
  const where = [
    ...(move.half === undefined ? [] : [`the ${move.half} web`]),
    ...(move.atDeg === undefined ? [] : [`at ${markName(clockOfMark(move.atDeg, move.marksRun ?? 'clockwise'))}`]),
  ]
  const force = move.force === undefined ? '' : `, ${move.force}`
  return `${[DONE_WORDS[move.action], ...where].join(' ')}${force}`
}
