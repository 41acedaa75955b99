import type { Window } from '#core/width.ts'

/** How a figure that cannot be right came about, and what it would be without that. */
export interface Slip {
  kind: 'decimal' | 'half-turn' | 'frame' | 'inch'
  mm: number
}

/** One turn of the thimble of a metric micrometer. From memory. */
const TURN_MM = 0.5
/** Frames of micrometers follow each other in steps of 25 mm; so do their setting rods. From memory. */
const FRAME_MM = 25
const MM_PER_INCH = 25.4

/**
 * The one slip of hand or eye that explains a figure: a decimal mark one or two places off, a turn of the thimble (0.5 mm),
 * the next frame (25 mm), or inches written as millimetres. What it would be without the slip has to land in the window
 * that is expected; of several the one nearest its middle counts. Null where none explains it.
 *
 * @example slipBehind(6.4, { minMm: 63.95, maxMm: 64.05 }) // { kind: 'decimal', mm: 64 }
 * @example slipBehind(64.52, { minMm: 63.95, maxMm: 64.05 }) // { kind: 'half-turn', mm: 64.02 }
 *
 * Lengths mm. Source: common practice, no source.
 */
export function slipBehind(readMm: number, expected: Window): Slip | null {
  const candidates: Slip[] = [
    ...[0.01, 0.1, 10, 100].map((times): Slip => ({ kind: 'decimal', mm: tidy(readMm * times) })),
    ...[-TURN_MM, TURN_MM].map((more): Slip => ({ kind: 'half-turn', mm: tidy(readMm + more) })),
    ...[-FRAME_MM, FRAME_MM].map((more): Slip => ({ kind: 'frame', mm: tidy(readMm + more) })),
    { kind: 'inch', mm: tidy(readMm * MM_PER_INCH) },
  ]
  const middle = (expected.minMm + expected.maxMm) / 2
  const away = (slip: Slip) => Math.abs(slip.mm - middle)
  return candidates
    .filter(({ mm }) => mm >= expected.minMm && mm <= expected.maxMm)
    .reduce<Slip | null>((best, one) => (best === null || away(one) < away(best) ? one : best), null)
}

/** Sums of decimal figures carry a binary tail that nobody keyed; the book keeps five decimals. */
function tidy(mm: number): number {
  return Number(mm.toFixed(5))
}
