import type { Turn } from '#core/bench/move-told.ts'

/** A set of readings or a move, in the order in which they were made. */
export type TruingStep = { kind: 'set'; atMs: number; worstMm: number } | { kind: 'move'; atMs: number; turn: Turn }

export interface StopAdvice {
  because: 'reversals' | 'no-gain'
  /** So many reversals, or minutes, since the last gain. */
  count: number
}

export const REVERSALS_MOST = 3
export const MINUTES_MOST = 20

/**
 * Whether to walk away from the crank for a while: three reversals (a move that went past or the other way), or twenty
 * minutes of moves, without a set that betters the best so far by more than the readings can tell. Wash, seat it again,
 * read again: half of what "will not come" is the measuring.
 *
 * @example stopAdvice([{ kind: 'set', atMs: 0, worstMm: 0.1 }, { kind: 'move', atMs: 1, turn: 'too-far' }, { kind: 'set', atMs: 2, worstMm: 0.1 }, { kind: 'move', atMs: 3, turn: 'too-far' }, { kind: 'set', atMs: 4, worstMm: 0.11 }, { kind: 'move', atMs: 5, turn: 'other-way' }, { kind: 'set', atMs: 6, worstMm: 0.1 }], 0.008).because // 'reversals'
 *
 * `worstMm` is the greater full swing of a set; `tellsMm` what a difference of two sets can tell. A set after a longer rest
 * than the twenty minutes starts afresh, since that is the walking away. Null: go on. Source: common practice, no source.
 */
export function stopAdvice(steps: readonly TruingStep[], tellsMm: number): StopAdvice | null {
  let best: { atMs: number; worstMm: number } | null = null
  let reversals = 0
  let moves = 0
  let lastMs: number | null = null
  for (const step of steps) {
    const rested = lastMs !== null && step.atMs - lastMs > MINUTES_MOST * 60_000
    lastMs = step.atMs
    if (step.kind === 'move') {
      moves++
      if (step.turn === 'too-far' || step.turn === 'other-way') reversals++
      continue
    }
    if (best === null || rested || step.worstMm < best.worstMm - tellsMm) {
      best = step
      reversals = 0
      moves = 0
    }
  }
  if (best === null || lastMs === null || moves === 0) return null
  if (reversals >= REVERSALS_MOST) return { because: 'reversals', count: reversals }
  const minutes = Math.floor((lastMs - best.atMs) / 60_000)
  return minutes >= MINUTES_MOST ? { because: 'no-gain', count: minutes } : null
}
