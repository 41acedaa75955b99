import { type Answer, answered, refuse } from '#core/answer.ts'
import { NUMBER, needListOf, needWithin } from '#core/limits.ts'
import { mean } from '#core/numeric/mean.ts'

export interface ChartInput {
  /** In the order in which they came. */
  values: readonly number[]
  /** What no value should exceed. */
  upperLimit?: number | undefined
}

const METHOD = { name: 'individuals and moving range of two, d2 = 1.128', version: '1' } as const

/** All in the unit of the values. */
export interface ChartAnswer {
  centre: number
  upper: number
  lower: number
  averageMovingRange: number
  /** Scatter from one value to the next, as a standard deviation. */
  sigma: number
  /** Places in `values`, counted from 0, of those above upper or below lower. */
  outside: number[]
  /** (upperLimit − centre)/3σ; absent without an upper limit, and without scatter. */
  capability?: number
  method: typeof METHOD
}

const SUM = 'chart'
/** Mean range of two normal values over their standard deviation, as tabled. */
const D2 = 1.128

/**
 * Whether a run of single values is steady: its centre and the bounds that steady values keep.
 *
 * @example chart({ values: [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1] }).value.upper.toFixed(4) // '55.8041'
 *
 * Values and limit ±1e9. Values that are all equal give bounds that are the value itself, nothing outside them and no
 * capability. Refuses fewer than two values (`too-few-points`).
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.2; capability on one side 6.1.6.
 */
export function chart({ values, upperLimit }: ChartInput): Answer<ChartAnswer> {
  needListOf(SUM, 'values', values)
  for (const value of values) needWithin(SUM, 'values', value, NUMBER)
  if (upperLimit !== undefined) needWithin(SUM, 'upperLimit', upperLimit, NUMBER)
  if (values.length < 2) return refuse('too-few-points', 'A chart needs two values or more.')
  const averageMovingRange = mean(values.slice(1).map((value, index) => Math.abs(value - values[index]!)))
  const sigma = averageMovingRange / D2
  // The mean of equal values may miss them by the last bit, and then all would lie outside.
  const centre = averageMovingRange === 0 ? values[0]! : mean(values)
  const upper = centre + 3 * sigma
  const lower = centre - 3 * sigma
  const outside = values.flatMap((value, index) => (value > upper || value < lower ? [index] : []))
  const answer: ChartAnswer = { centre, upper, lower, averageMovingRange, sigma, outside, method: METHOD }
  const capability = upperLimit === undefined ? Number.NaN : (upperLimit - centre) / (3 * sigma)
  return answered(Number.isFinite(capability) ? { ...answer, capability } : answer)
}
