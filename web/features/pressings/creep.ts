import type { Measurement } from '#contract/measurements.ts'
import type { Pressing } from '#web/features/pressings/press-words.ts'

/** The width at the pin after a tap. */
export interface Tap {
  id: string
  mm: number
  temperatureC: number | undefined
  /** Highest the gauge showed in this tap, t. */
  peakTonnes: number | undefined
}

/** Widths read between taps since the webs were last parted: on the way, at the pin alone. Oldest first. */
export function tapsOf(sets: readonly Measurement[], pressings: readonly Pressing[]): Tap[] {
  const parted = pressings.filter((one) => one.direction === 'apart' && one.struck === undefined).map((one) => Date.parse(one.occurredAt))
  const since = Math.max(Number.NEGATIVE_INFINITY, ...parted)
  return sets
    .filter((set) => set.kind === 'width' && set.phase === 'building' && set.struck === undefined && Date.parse(set.occurredAt) > since)
    .flatMap(({ id, values, temperatureC, peakTonnes }) => {
      const [only] = values
      return only === undefined || values.length > 1 || only.place !== '0' ? [] : [{ id, mm: only.mm, temperatureC, peakTonnes }]
    })
}

const COUNTED = 3
const DUST_MM = 1e-9

/** How far the last taps moved it, newest last, three at most; + closed. */
export function lastMoves(widthsMm: readonly number[]): number[] {
  const moves: number[] = []
  for (let place = 1; place < widthsMm.length; place += 1) moves.push(widthsMm[place - 1]! - widthsMm[place]!)
  return moves.slice(-COUNTED).map((one) => Number(one.toFixed(5)))
}

/** Where the ram stops before the last taps: so much wide of the aim. Common practice, no source. */
const STOP_BEFORE_MM = 0.05

/**
 * The width to press to before creeping: 0.05 wide of the aim, while it is further out than that by more than a tap;
 * undefined once the taps begin. Lengths mm; toGo: + still to press. Source: common practice, no source.
 *
 * @example stopAt({ aimMm: 64.01, toGoMm: 0.4 }) // 64.06
 */
export function stopAt({ aimMm, toGoMm }: { aimMm: number; toGoMm: number }): number | undefined {
  return toGoMm > 2 * STOP_BEFORE_MM + DUST_MM ? Number((aimMm + STOP_BEFORE_MM).toFixed(5)) : undefined
}

/** Where the next tap leaves it if it moves as the last ones did: on the mean, and between the greatest and the least of them. */
export function nextTap({
  nowMm,
  moves,
}: {
  nowMm: number
  moves: readonly number[]
}): { mm: number; minMm: number; maxMm: number } | undefined {
  if (moves.length === 0) return undefined
  const mean = moves.reduce((sum, one) => sum + one, 0) / moves.length
  return { mm: nowMm - mean, minMm: nowMm - Math.max(...moves), maxMm: nowMm - Math.min(...moves) }
}

export type Foretold =
  /** Nothing to foretell from, or nothing left to press. */
  | { kind: 'unknown' }
  /** The last taps moved nothing. */
  | { kind: 'stuck' }
  /** One more like these goes past the least width that is right. */
  | { kind: 'one-too-far'; eachMm: number }
  | { kind: 'taps'; count: number; eachMm: number }

/**
 * How many taps like the last three bring the width to its aim. The next tap is taken to move as far as those did on the
 * mean; where one alone would go past the least width that is right, that is said instead.
 *
 * Lengths mm; toGo: + still to press; roomMm: from the width now to the least that is right. Source: common practice, no source.
 *
 * @example foretellTaps({ toGoMm: 0.05, roomMm: 0.09, moves: [0.03, 0.02, 0.03] }) // { kind: 'taps', count: 2, eachMm: 0.0267 }
 */
export function foretellTaps({ toGoMm, roomMm, moves }: { toGoMm: number; roomMm: number; moves: readonly number[] }): Foretold {
  if (moves.length === 0 || toGoMm <= 0) return { kind: 'unknown' }
  const mean = moves.reduce((sum, one) => sum + one, 0) / moves.length
  const eachMm = Number(mean.toFixed(4))
  if (mean <= DUST_MM) return { kind: 'stuck' }
  if (mean > roomMm + DUST_MM) return { kind: 'one-too-far', eachMm }
  return { kind: 'taps', count: Math.max(1, Math.round(toGoMm / mean)), eachMm }
}

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'] as const

/** `about two taps` */
export function tapsInWords(count: number): string {
  return `about ${NUMBERS[count] ?? count} ${count === 1 ? 'tap' : 'taps'}`
}
