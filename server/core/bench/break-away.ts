import type { Turn } from '#core/bench/move-told.ts'

/** Blows as the hand names them, softest first. */
export const FORCES = ['light', 'firm', 'hard'] as const
export type Force = (typeof FORCES)[number]

export interface BlowSeen {
  force: Force
  turn: Turn
}

/** What it takes to move the joint of this crank, learned from its own blows. */
export interface BreakAway {
  /** The hardest blow that did nothing. */
  held?: Force
  /** The softest blow that moved it. */
  moved?: Force
  /** Softer blows have moved it than others that did nothing: the joint sticks and slips, and the band is wide. */
  uneven: boolean
  /** Of the blows that moved it, how many went past. */
  went: { past: number; of: number }
}

/**
 * The break-away band of one crank under one hand: what a name such as "firm" means differs from hand to hand, so that
 * blows of two people are not put together. The kept blows are those since the joint was last pressed.
 *
 * @example breakAway([{ force: 'light', turn: 'nothing' }, { force: 'firm', turn: 'short' }]) // { held: 'light', moved: 'firm', uneven: false, went: { past: 0, of: 1 } }
 *
 * Null where nothing was learned yet. Source: common practice, no source (stick-slip of a press fit).
 */
export function breakAway(blows: readonly BlowSeen[]): BreakAway | null {
  const told = blows.filter(({ turn }) => turn !== 'not-known')
  if (told.length === 0) return null
  const level = ({ force }: BlowSeen) => FORCES.indexOf(force)
  const didNothing = told.filter(({ turn }) => turn === 'nothing').map(level)
  const didMove = told.filter(({ turn }) => turn !== 'nothing')
  const held = didNothing.length === 0 ? undefined : FORCES[Math.max(...didNothing)]
  const moved = didMove.length === 0 ? undefined : FORCES[Math.min(...didMove.map(level))]
  return {
    ...(held === undefined ? {} : { held }),
    ...(moved === undefined ? {} : { moved }),
    uneven: held !== undefined && moved !== undefined && FORCES.indexOf(moved) <= FORCES.indexOf(held),
    went: { past: didMove.filter(({ turn }) => turn === 'too-far').length, of: didMove.length },
  }
}

/**
 * The blow to try next: the softest that has moved this crank; one harder than what did nothing; light where nothing is known.
 *
 * @example nextForce(breakAway([{ force: 'light', turn: 'nothing' }])) // 'firm'
 *
 * Where the joint is uneven the softer one stays: many light blows cost less than one that jumps. Source: common practice, no source.
 */
export function nextForce(band: BreakAway | null): Force {
  if (band === null) return 'light'
  if (band.moved !== undefined) return band.moved
  return FORCES[Math.min(FORCES.length - 1, FORCES.indexOf(band.held ?? 'light') + 1)] ?? 'hard'
}
