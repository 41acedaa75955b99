import type { MoveMade } from '#core/bench/foretold.ts'
import type { SetUp } from '#core/truing-faults.ts'

/** What a move did, seen on the one fault that it was meant for. */
export const TURNS = ['as-foretold', 'short', 'too-far', 'other-way', 'nothing', 'not-known'] as const
export type Turn = (typeof TURNS)[number]

export interface FaultsTold {
  swingMm: number
  openRad: number
}

export interface MoveSeen {
  move: Pick<MoveMade, 'action'>
  /** Faults of the set that led to it, and of the set read after it. */
  before: FaultsTold
  after: FaultsTold
  /** Where a perfect move would have brought swing and open. */
  aim: FaultsTold
  /** What one set can tell of each, see `faultDoubt`. */
  doubt: FaultsTold
}

/**
 * What one set of readings can tell of swing and open, when each end's full swing is worth a give-or-take: the two ends'
 * shares in quadrature.
 *
 * @example faultDoubt({ supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 38, dialRightMm: 38 }, { leftMm: 0.01, rightMm: 0.01 }).swingMm.toFixed(5) // '0.00707'
 *
 * Lengths mm, angle radians; give-or-take of a full swing, 0 or more. Source: first-order propagation through `faultsFrom`.
 */
export function faultDoubt(setUp: SetUp, giveOrTake: { leftMm: number; rightMm: number }): FaultsTold {
  const left = giveOrTake.leftMm / 2 / Math.abs(setUp.dialLeftMm)
  const right = giveOrTake.rightMm / 2 / Math.abs(setUp.dialRightMm)
  return { swingMm: Math.hypot(setUp.supportLeftMm * left, setUp.supportRightMm * right), openRad: Math.hypot(left, right) }
}

/**
 * Whether a blow, squeeze or wedge did what it was meant to: went as foretold, fell short, went past, went the other way,
 * or did nothing that two sets can tell apart. A difference of two sets is worth √2 of what one is.
 *
 * @example moveTurn({ move: { action: 'strike' }, before: { swingMm: 0.1, openRad: 0 }, after: { swingMm: 0.15, openRad: 0 }, aim: { swingMm: 0, openRad: 0 }, doubt: { swingMm: 0.005, openRad: 0.0001 } }) // 'other-way'
 *
 * Pressing apart and leaving alone have no turn: `not-known`. Source: common practice, no source; the difference: GUM, 5.1.2.
 */
export function moveTurn({ move, before, after, aim, doubt }: MoveSeen): Turn {
  if (move.action === 'part' || move.action === 'leave') return 'not-known'
  const fault = move.action === 'strike' ? 'swingMm' : 'openRad'
  const tells = Math.SQRT2 * doubt[fault]
  const wanted = aim[fault] - before[fault]
  const gone = after[fault] - before[fault]
  const left = aim[fault] - after[fault]
  if (Math.abs(gone) <= tells) return 'nothing'
  if (gone * wanted <= 0) return 'other-way'
  if (Math.abs(left) <= tells) return 'as-foretold'
  return left * wanted < 0 ? 'too-far' : 'short'
}

/**
 * Whether readings of a move that went the other way look as if the marks ran the other way round: then swing and cocked
 * keep their size and change their sign against what was meant, while open and throw stay. Asked, never taken for granted.
 *
 * @example marksMayRunTheOtherWay('other-way', { swingMm: 0.1, openRad: 0 }, { swingMm: 0.19, openRad: 0 }, 0.1) // true
 *
 * `meantMm` is how far the blow was meant to carry the swing. Source: the mirror of the marks turns each tangential part round.
 */
export function marksMayRunTheOtherWay(turn: Turn, before: FaultsTold, after: FaultsTold, meantMm: number): boolean {
  if (turn !== 'other-way') return false
  const gone = Math.abs(after.swingMm - before.swingMm)
  return gone >= Math.abs(meantMm) / 4
}
