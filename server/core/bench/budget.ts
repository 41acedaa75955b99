import type { Surface } from '#core/crank-shape.ts'
import { needWithin } from '#core/limits.ts'
import type { DialSupport } from '#core/runout-verdict.ts'

/** What the register says of a dial, mm. What it does not say is taken from the usual figures of its kind. */
export interface DialEntry {
  stepMm: number
  /** Greatest error within a tenth of a turn. */
  errorMm?: number | undefined
  retraceMm?: number | undefined
  repeatMm?: number | undefined
}

export interface BudgetInput {
  dial: DialEntry
  /** From the support to the dial, and between the supports, mm. */
  dialMm: number
  supportsApartMm: number
  support: DialSupport | 'centres'
  surface: Surface
  /** For a taper, n of 1:n on diameter. */
  taper?: number | undefined
  /** Sets of readings of which the mean is taken; 1 unless said. */
  repeats?: number | undefined
  /** Standard deviation of single sets, where two or more were taken in this very set-up. */
  spreadMm?: number | undefined
  /** How many sets that deviation is of; those of the mean unless said. */
  spreadSets?: number | undefined
}

export const BUDGET_PARTS = [
  'dial',
  'retrace',
  'repeat',
  'reading',
  'seats',
  'bearings',
  'centres',
  'surface',
  'way along the taper',
] as const
export type BudgetPartName = (typeof BUDGET_PARTS)[number]

export interface BudgetPart {
  name: BudgetPartName
  shape: 'normal' | 'rectangular'
  value: number
  sensitivity?: number
  degreesOfFreedom?: number
}

/**
 * What is put in for a dial of which the register says nothing more: greatest error within a tenth of a turn, retrace and
 * repeat. Source: the permissible errors of ordinary dials of 0.01 and 0.001 mm, from memory; common practice.
 */
const USUAL = {
  coarse: { errorMm: 0.005, retraceMm: 0.003, repeatMm: 0.003 },
  fine: { errorMm: 0.003, retraceMm: 0.001, repeatMm: 0.001 },
} as const
const FINE_STEP_MM = 0.002
/** Form of a ground seat in a good block; pulled centres; ring of an ordinary bearing, 18–30 bore; ground surface; sideways wander. Common practice, no source. */
const SEAT_FORM_MM = 0.0015
const CENTRE_FORM_MM = 0.003
const RING_MM = 0.013
const SURFACE_MM = 0.0015
const WANDER_MM = 0.05

const SUM = 'budgetParts'

/**
 * What makes one full swing of a dial doubtful, part by part, ready for the doubt sum: the dial itself, its retrace, its
 * repeat (or the spread of the sets that were taken), the reading between two lines at two marks, the seats or bearings or
 * centres that carry the crank, the surface under the dial, and the way along a taper.
 *
 * What carries the crank reaches the dial through the lever of its own support (1 + p/S) and of the other one (p/S). A ring
 * runs out by anything up to its limit and in any direction: limit ÷ √6 as a standard deviation.
 *
 * @example budgetParts({ dial: { stepMm: 0.01 }, dialMm: 32, supportsApartMm: 80, support: 'bearings', surface: 'plain' }).find((part) => part.name === 'bearings').sensitivity.toFixed(3) // '1.456'
 *
 * Lengths mm: step over 0 to 0.1, |dial| and supports 1–2000, taper 1–100, repeats 1–100. Refuses others (RangeError).
 * A thread, a spline and a warm crank have no figure here: they are flagged beside the reading instead.
 * Source: GUM (JCGM 100:2008) 4.3 for the shapes; the figures: as above.
 */
export function budgetParts(input: BudgetInput): BudgetPart[] {
  const { dial, support, surface, taper } = input
  checkInput(input)
  const usual = dial.stepMm <= FINE_STEP_MM ? USUAL.fine : USUAL.coarse
  const share = Math.abs(input.dialMm) / input.supportsApartMm
  const inboard = input.dialMm < 0 ? -1 : 1
  const lever = Math.hypot(1 + inboard * share, share)
  const parts: BudgetPart[] = [
    { name: 'dial', shape: 'rectangular', value: dial.errorMm ?? usual.errorMm },
    { name: 'retrace', shape: 'rectangular', value: dial.retraceMm ?? usual.retraceMm },
    repeatPart(dial.repeatMm ?? usual.repeatMm, input),
    { name: 'reading', shape: 'rectangular', value: dial.stepMm / 10, sensitivity: Math.SQRT2 },
    carrier(support, lever),
    { name: 'surface', shape: 'rectangular', value: SURFACE_MM },
  ]
  if (surface === 'taper') parts.push({ name: 'way along the taper', shape: 'rectangular', value: WANDER_MM / 4 / (taper ?? 5) })
  return parts
}

/** Sets that happen to lie closer together than the dial itself repeats do not make it a better dial. */
function repeatPart(repeatMm: number, { repeats = 1, spreadMm, spreadSets = repeats }: BudgetInput): BudgetPart {
  const mean = 1 / Math.sqrt(repeats)
  const ofDial: BudgetPart = { name: 'repeat', shape: 'rectangular', value: repeatMm / 2, sensitivity: mean }
  if (spreadMm === undefined || spreadSets < 2 || spreadMm <= ofDial.value / Math.sqrt(3)) return ofDial
  return { name: 'repeat', shape: 'normal', value: spreadMm, sensitivity: mean, degreesOfFreedom: spreadSets - 1 }
}

function carrier(support: BudgetInput['support'], lever: number): BudgetPart {
  if (support === 'bearings') return { name: 'bearings', shape: 'normal', value: RING_MM / Math.sqrt(6), sensitivity: lever }
  if (support === 'centres') return { name: 'centres', shape: 'rectangular', value: CENTRE_FORM_MM, sensitivity: lever }
  return { name: 'seats', shape: 'rectangular', value: SEAT_FORM_MM, sensitivity: lever }
}

/**
 * The expanded doubt (k = 2) of such parts without Student's t, for the screen that reads while the line is down; the
 * server's doubt sum stands. The two differ only where sets were repeated a few times.
 *
 * @example expandedAtTwo(budgetParts({ dial: { stepMm: 0.01 }, dialMm: 32, supportsApartMm: 80, support: 'bare-seats', surface: 'plain' })).toFixed(3) // '0.008'
 *
 * Source: GUM 5.1.2 and 6.2.1 with k = 2.
 */
export function expandedAtTwo(parts: readonly BudgetPart[]): number {
  const squares = parts.map(({ shape, value, sensitivity = 1 }) => ((shape === 'normal' ? value : value / Math.sqrt(3)) * sensitivity) ** 2)
  return 2 * Math.sqrt(squares.reduce((all, square) => all + square, 0))
}

function checkInput({ dial, dialMm, supportsApartMm, taper, repeats, spreadMm, spreadSets }: BudgetInput): void {
  if (!(dial.stepMm > 0)) throw new RangeError(`${SUM} needs a dial step over 0`)
  needWithin(SUM, 'the dial step', dial.stepMm, { min: 0, max: 0.1 })
  for (const [name, value] of Object.entries({ errorMm: dial.errorMm, retraceMm: dial.retraceMm, repeatMm: dial.repeatMm, spreadMm }))
    if (value !== undefined) needWithin(SUM, name, value, { min: 0, max: 1 })
  needWithin(SUM, 'the dial’s distance', Math.abs(dialMm), { min: 1, max: 2000 })
  needWithin(SUM, 'the distance between the supports', supportsApartMm, { min: 1, max: 2000 })
  if (taper !== undefined) needWithin(SUM, 'the taper', taper, { min: 1, max: 100 })
  for (const [name, count] of Object.entries({ repeats, spreadSets }))
    if (count !== undefined) needWithin(SUM, name, count, { min: 1, max: 100 })
}
