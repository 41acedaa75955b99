/** How the hands of the demo shop work: how long a crank takes, how many moves, how often it is inside at the second reading. */
import type { Chance } from './chance.ts'
import { type Family, familyOf } from './model-mix.ts'
import type { Hand } from './people.ts'
import type { Skill } from './truing-hand.ts'

/** Each doubling of a hand's count leaves this share of the hours, everybody's alike. */
export const RATE = 0.82
const SCATTER = 0.35
/** Four cranks in a hundred fight back. */
export const MONSTERS = { share: 0.04, times: 2.5 } as const
/** Under these the single steps have no time to lie in. */
const LEAST_HOURS = 0.75
export const LEAST_BUILDING_HOURS = 0.35

/** Hours of a usual crank at a count of that hand: Jonas at his first, the others where they stand today. */
export const LEVELS: Readonly<Record<Hand, { hours: number; n: number }>> = {
  jonas: { hours: 6.2, n: 1 },
  marek: { hours: 1.6, n: 700 },
  ewa: { hours: 1.9, n: 300 },
}

export const BY_FAMILY: Readonly<Record<Family, number>> = { cross: 1, fourStroke: 1.08, vintage: 1.15, kart: 0.92, multi: 2.6 }

/** Middle of the bench hours of a hand's n-th rebuild: person × model × a power of the count (unit times). */
export function usualHours(hand: Hand, n: number, code: string): number {
  const { hours, n: at } = LEVELS[hand]
  return hours * BY_FAMILY[familyOf(code)] * (n / at) ** Math.log2(RATE)
}

export function hoursOf(hand: Hand, n: number, code: string, chance: Chance): number {
  const hours = chance.lognormal(usualHours(hand, n, code), SCATTER)
  return Math.max(LEAST_HOURS, chance.happens(MONSTERS.share) ? hours * MONSTERS.times : hours)
}

/** Mean count of moves: the learner's falls, and is about 14 over his first sixty cranks. */
const LEARNERS_MOVES = { most: 34, first: 48, falls: -0.35 } as const
const PRACTISED_MOVES = 3.4
/** A hand that is not through by then has gone home long before. */
const MOVES_MOST = 45

export function skillOf(hand: Hand, n: number, chance: Chance): Skill {
  const { most, first, falls } = LEARNERS_MOVES
  const mean = hand === 'jonas' ? Math.min(most, first * n ** falls) : PRACTISED_MOVES
  return {
    moves: Math.min(MOVES_MOST, chance.geometric(mean)),
    reversal: hand === 'jonas' ? 0.32 : 0.18,
    ownWay: hand === 'jonas' ? 0.05 : 0.2,
  }
}

/** Share that goes into truing of the hours from apart to true: falls with skill. */
export function truingShareOf(hand: Hand, n: number): number {
  return hand === 'jonas' ? 0.7 - 0.2 * Math.min(1, Math.log(n) / Math.log(60)) : 0.4
}

/** How often the second person’s first set is inside the house limit. */
export function insideAtFirstCheck(hand: Hand): number {
  return hand === 'jonas' ? 0.78 : 0.95
}
