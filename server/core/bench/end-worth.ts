import { type BudgetPart, type BudgetPartName, budgetParts, type DialEntry, expandedAtTwo } from '#core/bench/budget.ts'
import type { RunoutSetUp } from '#core/bench/reading.ts'
import { surfaceUnder } from '#core/bench/reading-quality.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import type { DialSupport, Side } from '#core/runout-verdict.ts'
import { surfaceSaid } from '#core/surface-words.ts'

/** Share of readings whose true figure lies within the give-or-take, said beside every one of them. */
export const COVERAGE = 0.9545

/** A doubt budget put together: how far the true figure may lie away. */
export interface Expanded {
  giveOrTakeMm: number
  /** Give-or-take over the standard deviation. */
  k: number
  /** How well that deviation is known; null where as well as can be. */
  degreesOfFreedom: number | null
}

/** Puts the parts of a budget together. The server's way knows Student's t; `atTwo` is the bench's. */
export type Expand = (parts: readonly BudgetPart[]) => Expanded

/** What the full swing of one end is worth, and by what. */
export interface EndWorth extends Expanded {
  /** Sets in this very set-up that say how it repeats, this one among them. */
  sets: number
  /** Standard deviation that each part brings, mm, and its share of the whole; the shares add up to 1. */
  parts: { name: BudgetPartName; standardMm: number; share: number }[]
}

/** Without Student's t: k = 2. The screen that reads goes by it, and it differs only where sets were repeated a few times. */
export const atTwo: Expand = (parts) => ({ giveOrTakeMm: expandedAtTwo(parts), k: 2, degreesOfFreedom: null })

/** Two sets alone say too little of how a set-up repeats: Student's t of one degree of freedom would drown everything else. */
const SETS_LEAST = 3

/** What the crank lies on, for its budget: bearings, cases and a chuck bring the error of rings with them; seats are ground. */
export function supportOf(held: WayOfHolding): DialSupport | 'centres' {
  if (held === 'centres') return 'centres'
  return held.endsWith('-bare') ? 'bare-seats' : 'bearings'
}

export interface EndRead {
  side: Side
  setUp: Omit<RunoutSetUp, 'cold'>
  dial: DialEntry
  /** Full swings of this end, mm, that were read in this very set-up with nothing done between, this set's own among them. */
  swingsMm?: readonly number[] | undefined
}

/**
 * What one full swing of one end is worth in its set-up: the budget of its dial, its support and the surface under it, with
 * the spread of three sets or more in this very set-up where they spread more than the dial does. Of those sets one is the figure, so
 * that no mean is taken. A warm crank has no part here and is flagged beside the reading.
 *
 * @example endWorth({ side: 'left', setUp: { held: 'v-blocks-bare', supportLeftMm: 40, supportRightMm: 40, dialLeftMm: 32, dialRightMm: 32 }, dial: { stepMm: 0.01 } }).giveOrTakeMm.toFixed(3) // '0.008'
 *
 * Lengths mm. Refuses (RangeError) what budgetParts refuses. Words that name no surface stand for a plain shaft, and a taper
 * beyond 1:1 or 1:100 counts as that. Source: as budgetParts; the spread: GUM (JCGM 100:2008) 4.2.
 */
export function endWorth({ side, setUp, dial, swingsMm = [] }: EndRead, expand: Expand = atTwo): EndWorth {
  const isLeft = side === 'left'
  const dialMm = isLeft ? setUp.dialLeftMm : setUp.dialRightMm
  const said = surfaceSaid((isLeft ? setUp.surfaceLeft : setUp.surfaceRight) ?? 'plain')
  const parts = budgetParts({
    dial,
    dialMm,
    supportsApartMm: setUp.supportLeftMm + setUp.supportRightMm,
    support: supportOf(setUp.held),
    surface: surfaceUnder(Math.abs(dialMm), said),
    taper: said.taper === undefined ? undefined : Math.min(100, Math.max(1, said.taper)),
    ...(swingsMm.length < SETS_LEAST ? {} : { spreadMm: deviationOf(swingsMm), spreadSets: swingsMm.length }),
  })
  const standards = parts.map(({ shape, value, sensitivity = 1 }) => (shape === 'normal' ? value : value / Math.sqrt(3)) * sensitivity)
  const whole = standards.reduce((sum, standard) => sum + standard ** 2, 0)
  return {
    ...expand(parts),
    sets: Math.max(1, swingsMm.length),
    parts: parts.map(({ name }, index) => ({ name, standardMm: standards[index]!, share: standards[index]! ** 2 / whole })),
  }
}

function deviationOf(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1))
}

const HELPS: Readonly<Record<BudgetPartName, string>> = {
  dial: 'a finer dial, or one whose own error the register knows, would help most',
  retrace: 'turn it the same way round to every mark',
  repeat: 'seat it again, on oiled seats, and read it anew',
  reading: 'a finer dial would help most',
  seats: 'turn it on blocks of another angle too, and compare',
  bearings: 'read on bare seats',
  centres: 'read it on its seats in V-blocks',
  surface: 'move the dial to a better ground place',
  'way along the taper': 'hold the shaft against an end stop',
}

/**
 * Which part makes the most of the doubt, and what the hand does about it.
 *
 * @example helpsMost([{ name: 'bearings', standardMm: 0.0077, share: 0.84 }, { name: 'dial', standardMm: 0.0029, share: 0.12 }]) // 'bearings 84 %: read on bare seats'
 *
 * Needs one part at the least (RangeError). Source: the shares of the budget; the words: common practice, no source.
 */
export function helpsMost(parts: EndWorth['parts']): string {
  const [first, ...others] = parts
  if (first === undefined) throw new RangeError('helpsMost needs one part at the least')
  const most = others.reduce((greatest, part) => (part.share > greatest.share ? part : greatest), first)
  return `${most.name} ${Math.round(most.share * 100)} %: ${HELPS[most.name]}`
}
