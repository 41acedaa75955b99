import { mean } from '#core/numeric/mean.ts'
import { sum } from '#core/numeric/sum.ts'

/** A straight line y = intercept + slope·x through points, with what its scatter says about it. */
export interface Line {
  intercept: number
  slope: number
  interceptStandardError: number
  slopeStandardError: number
  /** Scatter of the points about the line, with count − 2 degrees of freedom. */
  residualSd: number
  /** Absent when all y are the same: there is then nothing to explain. */
  rSquared?: number
  count: number
  degreesOfFreedom: number
  meanX: number
  meanY: number
  /** Sum of the squared distances of the x from their mean. */
  spreadX: number
}

/**
 * Straight line through points by least squares.
 *
 * @example fitLine([1, 2, 3], [3, 5, 7]).slope // 2
 *
 * Refuses fewer than three points, lists of unequal length, and x that are all the same (RangeError).
 * Source: NIST Statistical Reference Datasets, linear least squares (data set Norris checks it).
 */
export function fitLine(x: readonly number[], y: readonly number[]): Line {
  if (x.length !== y.length) throw new RangeError('fitLine needs as many y as x')
  if (x.length < 3) throw new RangeError('fitLine needs at least three points')
  const count = x.length
  const meanX = mean(x)
  const meanY = mean(y)
  const awayX = x.map((value) => value - meanX)
  const awayY = y.map((value) => value - meanY)
  const spreadX = sum(awayX.map((value) => value * value))
  if (!(spreadX > 0)) throw new RangeError('fitLine needs at least two different x')
  const slope = sum(awayX.map((value, index) => value * awayY[index]!)) / spreadX
  const left = sum(awayX.map((value, index) => (awayY[index]! - slope * value) ** 2))
  const degreesOfFreedom = count - 2
  const residualSd = Math.sqrt(left / degreesOfFreedom)
  const level = y.every((value) => value === y[0])
  const line = {
    intercept: meanY - slope * meanX,
    slope,
    interceptStandardError: residualSd * Math.sqrt(1 / count + meanX ** 2 / spreadX),
    slopeStandardError: residualSd / Math.sqrt(spreadX),
    residualSd,
    count,
    degreesOfFreedom,
    meanX,
    meanY,
    spreadX,
  }
  return level ? line : { ...line, rSquared: 1 - left / sum(awayY.map((value) => value * value)) }
}

/** How far one new point may lie from the line at an x: the line's own doubt and the scatter together. */
export function newPointStandardError(line: Line, x: number): number {
  return line.residualSd * Math.sqrt(1 + 1 / line.count + (x - line.meanX) ** 2 / line.spreadX)
}

/** A straight line y = slope·x that is held on the origin. */
export interface LineThroughZero {
  slope: number
  slopeStandardError: number
  /** Scatter about the line, with count − 1 degrees of freedom. */
  residualSd: number
}

/**
 * Straight line through the origin by least squares.
 *
 * @example fitLineThroughZero([1, 2], [3, 6]).slope // 3
 *
 * Refuses fewer than two points, lists of unequal length, and x that are all 0 (RangeError).
 * Source: NIST Statistical Reference Datasets, linear least squares (data set NoInt1 checks it).
 */
export function fitLineThroughZero(x: readonly number[], y: readonly number[]): LineThroughZero {
  if (x.length !== y.length) throw new RangeError('fitLineThroughZero needs as many y as x')
  if (x.length < 2) throw new RangeError('fitLineThroughZero needs at least two points')
  const squares = sum(x.map((value) => value * value))
  if (!(squares > 0)) throw new RangeError('fitLineThroughZero needs an x other than 0')
  const slope = sum(x.map((value, index) => value * y[index]!)) / squares
  const residualSd = Math.sqrt(sum(x.map((value, index) => (y[index]! - slope * value) ** 2)) / (x.length - 1))
  return { slope, slopeStandardError: residualSd / Math.sqrt(squares), residualSd }
}
