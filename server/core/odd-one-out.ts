import { type Answer, answered, refuse } from '#core/answer.ts'
import { NUMBER, needListOf, needWithin } from '#core/limits.ts'
import { median as medianOf } from '#core/numeric/median.ts'

export interface OddOneOutInput {
  values: readonly number[]
  /** One more value to judge by the others; not counted among them. */
  candidate?: number | undefined
  /** Score above which a value is flagged, whichever its sign; 3.5 unless said. */
  threshold?: number | undefined
}

const METHOD = { name: 'modified z-score, 0.6745 × distance from the median / MAD', version: '1' } as const

export interface OddOneOutAnswer {
  median: number
  /** Median of the distances from the median, not scaled; in the unit of the values. */
  mad: number
  /** One score for each value, in their order. */
  scores: number[]
  /** Places in `values`, counted from 0, of those whose score is over the threshold. */
  flagged: number[]
  candidateScore?: number
  method: typeof METHOD
}

const SUM = 'oddOneOut'
/** The upper quartile of a standard normal number, as tabled in the source. */
const QUARTILE = 0.6745

/**
 * Which of some values stands apart from the others, by a measure that the odd one cannot itself stretch.
 *
 * @example oddOneOut({ values: [1, 2, 3, 4, 40] }).value.flagged // [4]
 * @example oddOneOut({ values: [1, 2, 3, 5, 7, 8] }).value.mad // 2.5
 *
 * Values and candidate ±1e9, threshold more than 0. Refuses no values (`too-few-points`), values of which more than half are
 * the same, so that MAD is 0 (`no-spread`), and values so near one another that a score is beyond every number
 * (`out-of-range`).
 * Source: Iglewicz and Hoaglin (1993), How to Detect and Handle Outliers; NIST/SEMATECH e-Handbook 1.3.5.17.
 */
export function oddOneOut(input: OddOneOutInput): Answer<OddOneOutAnswer> {
  checkInput(input)
  const { values, candidate } = input
  const threshold = input.threshold ?? 3.5
  if (values.length === 0) return refuse('too-few-points', 'Give some values to compare.')
  const median = medianOf(values)
  const mad = medianOf(values.map((value) => Math.abs(value - median)))
  if (mad === 0) return refuse('no-spread', 'More than half of the values are the same; none can be called odd by the others.')
  const scoreOf = (value: number) => (QUARTILE * (value - median)) / mad
  const scores = values.map(scoreOf)
  const candidateScore = candidate === undefined ? undefined : scoreOf(candidate)
  if (![...scores, candidateScore ?? 0].every(Number.isFinite)) {
    return refuse('out-of-range', 'Most of the values lie too near one another for a score.')
  }
  const flagged = scores.flatMap((score, index) => (Math.abs(score) > threshold ? [index] : []))
  const answer: OddOneOutAnswer = { median, mad, scores, flagged, method: METHOD }
  return answered(candidateScore === undefined ? answer : { ...answer, candidateScore })
}

function checkInput(input: OddOneOutInput): void {
  needListOf(SUM, 'values', input.values)
  for (const value of input.values) needWithin(SUM, 'values', value, NUMBER)
  if (input.candidate !== undefined) needWithin(SUM, 'candidate', input.candidate, NUMBER)
  const { threshold } = input
  if (threshold !== undefined && !(threshold > 0 && threshold <= NUMBER.max)) {
    throw new RangeError(`${SUM} needs threshold more than 0, not ${threshold}`)
  }
}
