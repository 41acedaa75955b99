import { type Answer, answered, refuse } from '#core/answer.ts'
import { AMOUNT, CONFIDENCE, DEGREES_OF_FREEDOM, NUMBER, needListOf, needWithin } from '#core/limits.ts'
import { normalQuantile, studentTQuantile } from '#core/numeric/distributions.ts'
import { sum } from '#core/numeric/sum.ts'
import { GUARD_RULES, type GuardRule } from '#core/runout-verdict.ts'

export const DOUBT_SHAPES = ['normal', 'rectangular', 'triangular', 'u-shaped'] as const
export type DoubtShape = (typeof DOUBT_SHAPES)[number]
export const DOUBT_RULES = GUARD_RULES
export type DoubtRule = GuardRule
export const DOUBT_VERDICTS = ['within', 'in-the-doubt-band', 'over'] as const
export type DoubtVerdict = (typeof DOUBT_VERDICTS)[number]

/** One thing that makes a reading doubtful. */
export interface DoubtPart {
  name: string
  shape: DoubtShape
  /** Standard deviation of a normal part; of the others half the width from end to end. */
  value: number
  /** How well the value itself is known; without it as well as can be. */
  degreesOfFreedom?: number | undefined
  /** How far the reading moves for one unit of this part; 1 unless said. */
  sensitivity?: number | undefined
}

export interface DoubtInput {
  parts: readonly DoubtPart[]
  /** Share of readings that lie within the expanded doubt; 0.9545 unless said. Not looked at where k is given. */
  coverage?: number | undefined
  k?: number | undefined
  measured?: number | undefined
  limit?: number | undefined
  /** full-guard unless said. */
  rule?: DoubtRule | undefined
}

const METHOD = { name: 'sum of squares, Welch–Satterthwaite degrees of freedom, Student’s t', version: '1' } as const

export interface DoubtAnswer {
  /** Standard deviation of the reading. */
  standard: number
  /** Null when infinite: no part has degrees of freedom, or they weigh nothing. Not rounded. */
  degreesOfFreedom: number | null
  k: number
  /** k times standard. */
  expanded: number
  /** Where measured and limit are given. */
  verdict?: DoubtVerdict
  /** What each part brings: its standard deviation in the reading, and its share of the sum of squares; the shares add up to 1. */
  parts: { name: string; standard: number; share: number }[]
  method: typeof METHOD
}

const SUM = 'doubt'
/** Half-width over standard deviation. */
const DIVISORS: Readonly<Record<DoubtShape, number>> = {
  normal: 1,
  rectangular: Math.sqrt(3),
  triangular: Math.sqrt(6),
  'u-shaped': Math.SQRT2,
}
/** A whole number of degrees of freedom must not be taken for one less for the sake of its last bit; nor a sum for over its limit. */
const DUST = 1e-12

/**
 * What a reading is worth: its parts of doubt put together, and what may then be said against a limit.
 *
 * @example doubt({ parts: [{ name: 'repeats', shape: 'normal', value: 0.35, degreesOfFreedom: 9 }], coverage: 0.95 }).value.expanded.toFixed(2) // '0.79'
 *
 * All values in the unit of the reading, 0 to 1e9; sensitivity ±1e9; degrees of freedom 1 to 1e9; coverage 0.01–0.999999;
 * k more than 0. Only for k are the degrees of freedom rounded down. full-guard: within when measured + expanded is no more
 * than the limit, over when measured is more than the limit, else in the doubt band. simple: the doubt is left out.
 * Refuses no parts (`too-few-points`) and parts that are all nothing (`no-spread`).
 * Source: JCGM 100:2008 (GUM) 4.3, 5.1.2, G.4, G.6.4; the guard ILAC-G8:09/2019.
 */
export function doubt(input: DoubtInput): Answer<DoubtAnswer> {
  checkInput(input)
  if (input.parts.length === 0) return refuse('too-few-points', 'Give at least one thing that makes the reading doubtful.')
  const standards = input.parts.map((part) => (part.value / DIVISORS[part.shape]) * Math.abs(part.sensitivity ?? 1))
  const greatest = standards.reduce((most, standard) => Math.max(most, standard), 0)
  if (!(greatest > 0)) return refuse('no-spread', 'No part brings any doubt; give one that is more than 0.')
  // Measured by the greatest, so that no square is lost for being too small.
  const squares = standards.map((standard) => (standard / greatest) ** 2)
  const total = sum(squares)
  const standard = greatest * Math.sqrt(total)
  const shares = squares.map((square) => square / total)
  const degreesOfFreedom = together(input.parts, shares)
  const k = input.k ?? coverageFactor(input.coverage ?? 0.9545, degreesOfFreedom)
  const expanded = k * standard
  const verdict = verdictOf(input, expanded)
  return answered({
    standard,
    degreesOfFreedom,
    k,
    expanded,
    ...(verdict === undefined ? {} : { verdict }),
    parts: input.parts.map((part, index) => ({ name: part.name, standard: standards[index]!, share: shares[index]! })),
    method: METHOD,
  })
}

/** Welch–Satterthwaite. */
function together(parts: readonly DoubtPart[], shares: readonly number[]): number | null {
  const loss = sum(parts.map((part, index) => (part.degreesOfFreedom === undefined ? 0 : shares[index]! ** 2 / part.degreesOfFreedom)))
  const degrees = 1 / loss
  return Number.isFinite(degrees) ? degrees : null
}

function coverageFactor(coverage: number, degreesOfFreedom: number | null): number {
  // The lower tail keeps its digits where 1 − tail would not.
  const tail = (1 - coverage) / 2
  if (degreesOfFreedom === null) return -normalQuantile(tail)
  return -studentTQuantile(tail, Math.floor(degreesOfFreedom * (1 + DUST)))
}

function verdictOf({ measured, limit, rule }: DoubtInput, expanded: number): DoubtVerdict | undefined {
  if (measured === undefined || limit === undefined) return undefined
  if (measured > limit) return 'over'
  const dust = DUST * Math.max(Math.abs(measured), Math.abs(limit), expanded)
  return rule === 'simple' || measured + expanded <= limit + dust ? 'within' : 'in-the-doubt-band'
}

function checkInput(input: DoubtInput): void {
  needListOf(SUM, 'parts', input.parts)
  for (const part of input.parts) {
    needWithin(SUM, 'value', part.value, AMOUNT)
    if (part.sensitivity !== undefined) needWithin(SUM, 'sensitivity', part.sensitivity, NUMBER)
    if (part.degreesOfFreedom !== undefined) needWithin(SUM, 'degreesOfFreedom', part.degreesOfFreedom, DEGREES_OF_FREEDOM)
  }
  if (input.coverage !== undefined) needWithin(SUM, 'coverage', input.coverage, CONFIDENCE)
  if (input.k !== undefined && !(input.k > 0 && input.k <= NUMBER.max)) throw new RangeError(`${SUM} needs k more than 0, not ${input.k}`)
  for (const name of ['measured', 'limit'] as const) {
    const value = input[name]
    if (value !== undefined) needWithin(SUM, name, value, NUMBER)
  }
}
