import { type Answer, answered, refuse } from '#core/answer.ts'
import { CONFIDENCE, COUNT_MOST, HOURS, needWithin } from '#core/limits.ts'
import { studentTQuantile } from '#core/numeric/distributions.ts'
import { fitLine, type Line, newPointStandardError } from '#core/numeric/line.ts'

/** The n-th crank of a hand and the hours it took. */
export interface LearningPoint {
  /** Which crank it was, more than 0; need not be whole. */
  n: number
  hours: number
}

export interface LearningInput {
  points: readonly LearningPoint[]
  /** Share of intervals that hold the truth; 0.95 unless said. */
  confidence?: number | undefined
  targetHours?: number | undefined
  predictAt?: readonly number[] | undefined
}

export interface Interval {
  low: number
  high: number
}

/** Ends of an interval of hours; the high one is absent where cranks too near one another put it beyond every number that can be written. */
export interface HoursInterval {
  low: number
  high?: number
}

/** hours = firstHours · n^exponent. */
export interface PowerLaw {
  /** Where the line stands at n = 1; nobody need have built that crank. */
  firstHours: number
  exponent: number
  /** What each doubling of n leaves of the hours: 2^exponent. */
  rate: number
  /** Absent when all hours are the same. */
  rSquared?: number
  /** Scatter about the line in natural logarithms of hours, count − 2 degrees of freedom. */
  residualSd: number
  firstHoursInterval: HoursInterval
  exponentStandardError: number
  exponentInterval: Interval
}

/** Hours foretold, with the interval for one new crank, not for the line. */
export interface Prediction extends HoursInterval {
  n: number
  hours: number
}

/** Where the line meets the target, and where the edges of its confidence band do. */
export interface TargetReached {
  n: number
  low?: number
  high?: number
}

const METHOD = { name: 'power law of the unit times, log–log least squares', version: '1' } as const

export interface LearningAnswer {
  power: PowerLaw
  predictions: Prediction[]
  /** Absent without a target; null when the exponent's interval reaches 0, so that no line can be said to lead there. */
  reachesTarget?: TargetReached | null
  method: typeof METHOD
}

const SUM = 'learning'
const LEAST_POINTS = 3

/**
 * The learning line of a hand: how the hours of the n-th crank fall with n.
 *
 * @example learning({ points: [{ n: 1, hours: 10 }, { n: 2, hours: 8 }, { n: 4, hours: 6.4 }] }).value.power.rate.toFixed(3) // '0.800'
 *
 * n more than 0, hours 0.01–10,000, confidence 0.01–0.999999. Refuses fewer than three points (`too-few-points`), points at
 * only one n (`no-spread`), and points from which the line runs out of every bound (`out-of-range`).
 * Source: unit model of the learning curve (Chase, Jacobs and Aquilano, Operations Management, learning curves); Wright
 * (1936) states the cumulative average instead, which is not used here. Intervals: Student's t on the logarithms.
 */
export function learning(input: LearningInput): Answer<LearningAnswer> {
  checkInput(input)
  const { points } = input
  if (points.length < LEAST_POINTS) return refuse('too-few-points', 'A line needs three cranks or more.')
  const logN = points.map((point) => Math.log(point.n))
  if (logN.every((value) => value === logN[0]))
    return refuse('no-spread', 'All points stand at the same n; a line needs two different ones.')
  const logHours = points.map((point) => Math.log(point.hours))
  const line = fitLine(logN, logHours)
  // The lower tail keeps its digits where 1 − tail would not.
  const t = -studentTQuantile((1 - (input.confidence ?? 0.95)) / 2, line.degreesOfFreedom)

  const power = powerLaw(line, t)
  const predictions = (input.predictAt ?? []).map((n) => predict(line, t, n))
  if (!isBounded(power, predictions)) {
    return refuse('out-of-range', 'These points give a line that runs out of every bound; take cranks that lie further apart.')
  }
  const answer: LearningAnswer = { power, predictions, method: METHOD }
  if (input.targetHours === undefined) return answered(answer)
  const reached = whereReached(line, t, power, Math.log(input.targetHours))
  return answered(reached === undefined ? answer : { ...answer, reachesTarget: reached })
}

function powerLaw(line: Line, t: number): PowerLaw {
  const power = {
    firstHours: Math.exp(line.intercept),
    exponent: line.slope,
    rate: 2 ** line.slope,
    residualSd: line.residualSd,
    firstHoursInterval: hoursInterval(line.intercept, t * line.interceptStandardError),
    exponentStandardError: line.slopeStandardError,
    exponentInterval: { low: line.slope - t * line.slopeStandardError, high: line.slope + t * line.slopeStandardError },
  }
  return line.rSquared === undefined ? power : { ...power, rSquared: line.rSquared }
}

function predict(line: Line, t: number, n: number): Prediction {
  const logN = Math.log(n)
  const height = line.intercept + line.slope * logN
  return { n, hours: Math.exp(height), ...hoursInterval(height, t * newPointStandardError(line, logN)) }
}

function hoursInterval(logHours: number, half: number): HoursInterval {
  const low = Math.exp(logHours - half)
  const high = Math.exp(logHours + half)
  return Number.isFinite(high) ? { low, high } : { low }
}

function isBounded(power: PowerLaw, predictions: readonly Prediction[]): boolean {
  return isWritable(power.rate) && isWritable(power.firstHours) && predictions.every((prediction) => isWritable(prediction.hours))
}

/** Null as said above; undefined when the line meets the target only beyond every number that can be written. */
function whereReached(line: Line, t: number, power: PowerLaw, target: number): TargetReached | null | undefined {
  if (power.exponentInterval.low <= 0 && power.exponentInterval.high >= 0) return null
  const n = Math.exp((target - line.intercept) / line.slope)
  if (!isWritable(n)) return undefined
  const [low, high] = bandMeets(line, t, target).map(Math.exp)
  const reached: TargetReached = { n }
  if (low !== undefined && isWritable(low)) reached.low = low
  if (high !== undefined && isWritable(high)) reached.high = high
  return reached
}

function isWritable(n: number): boolean {
  return n > 0 && Number.isFinite(n)
}

/**
 * Where the confidence band of the line has the target as its edge, as ln n, the lesser first: the two roots of
 * (line − target)² = (t · standard error of the line)². With the exponent's interval clear of 0 both are real.
 */
function bandMeets(line: Line, t: number, target: number): number[] {
  const away = line.meanY - target
  const squareT = (t * line.residualSd) ** 2
  const a = line.slope ** 2 - squareT / line.spreadX
  const halfB = line.slope * away
  const c = away ** 2 - squareT / line.count
  // b² − 4ac, written so that nothing cancels.
  const root = t * line.residualSd * Math.sqrt(away ** 2 / line.spreadX + a / line.count)
  const far = halfB >= 0 ? -halfB - root : -halfB + root
  const roots = far === 0 ? [0, 0] : [far / a, c / far]
  return roots.map((value) => value + line.meanX).sort((one, other) => one - other)
}

function checkInput(input: LearningInput): void {
  for (const { n, hours } of input.points) {
    needCount(n)
    needWithin(SUM, 'hours', hours, HOURS)
  }
  for (const n of input.predictAt ?? []) needCount(n)
  if (input.confidence !== undefined) needWithin(SUM, 'confidence', input.confidence, CONFIDENCE)
  if (input.targetHours !== undefined) needWithin(SUM, 'targetHours', input.targetHours, HOURS)
}

function needCount(n: number): void {
  if (!(n > 0 && n <= COUNT_MOST)) throw new RangeError(`${SUM} needs n more than 0 and no more than ${COUNT_MOST}, not ${n}`)
}
