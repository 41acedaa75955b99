/** How the hands of the demo shop work: how long a crank takes, how many moves, how often it is inside at the second reading. */
import type { Chance } from './chance.ts'
import type { Hand } from './people.ts'
import type { Skill } from './truing-hand.ts'

/** Jonas began with 6.2 h a crank, and each doubling of his count leaves 82 % of the hours. */
const LEARNER = { firstHours: 6.2, rate: 0.82, scatter: 0.35 } as const

/** Bench hours of Jonas’s n-th rebuild: a power law of n (unit times), scattered evenly in proportion. */
function learnersHours(n: number, chance: Chance): number {
  return LEARNER.firstHours * n ** Math.log2(LEARNER.rate) * Math.exp(LEARNER.scatter * chance.normal())
}

/** The others stand where the line is flat. */
const LEVEL_HOURS = { marek: 1.75, ewa: 2.05 } as const
const LEVEL_SCATTER = 0.28

export function hoursOf(hand: Hand, n: number, chance: Chance): number {
  const hours = hand === 'jonas' ? learnersHours(n, chance) : chance.lognormal(LEVEL_HOURS[hand], LEVEL_SCATTER)
  return Math.max(1.1, hours)
}

/** So that his first ten cranks take about 14 moves each, and those around the thirtieth about 8, as geometric means. */
const LEARNERS_MOVES = { most: 18, first: 28, falls: -0.4 } as const
const PRACTISED_MOVES = 5
const SCATTER_OF_MOVES = 0.3

export function skillOf(hand: Hand, n: number, chance: Chance): Skill {
  const { most, first, falls } = LEARNERS_MOVES
  const median = hand === 'jonas' ? Math.min(most, first * n ** falls) : PRACTISED_MOVES
  return {
    moves: Math.max(1, chance.lognormal(median, SCATTER_OF_MOVES)),
    reversal: hand === 'jonas' ? 0.32 : 0.18,
    ownWay: hand === 'jonas' ? 0.05 : 0.2,
  }
}

/** Share that goes into truing of the hours from apart to true: falls with skill. */
export function truingShareOf(hand: Hand, n: number): number {
  return hand === 'jonas' ? 0.7 - 0.2 * Math.min(1, Math.log(n) / Math.log(43)) : 0.4
}

/** How often the second person’s first set is inside the house limit. */
export function insideAtFirstCheck(hand: Hand): number {
  return hand === 'jonas' ? 0.78 : 0.95
}
