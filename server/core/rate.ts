import { type Answer, answered, refuse } from '#core/answer.ts'
import { AMOUNT, CONFIDENCE, COUNT, needWhole, needWithin } from '#core/limits.ts'
import { betaQuantile, chiSquareQuantile, normalQuantile } from '#core/numeric/distributions.ts'

/** Failures among a total, or over an exposure such as engine hours; just one of the two. */
export interface RateInput {
  failures: number
  total?: number | undefined
  exposure?: number | undefined
  /** Share of intervals that hold the truth; 0.95 unless said. */
  confidence?: number | undefined
}

export interface RateInterval {
  low: number
  high: number
}

const SHARE_METHOD = { name: 'Wilson score and Clopper–Pearson intervals', version: '1' } as const
const EXPOSURE_METHOD = { name: 'exact Poisson interval', version: '1' } as const

export interface RateAnswer {
  /** Failures by one of the total, or by one unit of exposure. */
  rate: number
  /** With a total only. */
  wilson?: RateInterval
  exact: RateInterval
  method: typeof SHARE_METHOD | typeof EXPOSURE_METHOD
}

const SUM = 'rate'

/**
 * How often something fails, and between what bounds the truth may lie.
 *
 * @example rate({ failures: 1, total: 29 }).value.exact.high.toFixed(4) // '0.1776'
 * @example rate({ failures: 5, exposure: 100 }).value.exact.high.toFixed(6) // '0.116683'
 *
 * Whole counts 0 to 1e9, no more failures than the total; exposure 0 to 1e9 in any unit, which failures may exceed;
 * confidence 0.01–0.999999. No failures: every low end is 0. Nothing but failures: every high end of a total is 1.
 * Refuses a total or an exposure of 0 (`too-few-points`), and an exposure so small that the rate is beyond every number
 * (`out-of-range`).
 * Source: Wilson (1927), Clopper and Pearson (1934); both as set out in Newcombe (1998), Statistics in Medicine 17:857–872;
 * over an exposure Garwood (1936), Biometrika 28:437–442.
 */
export function rate(input: RateInput): Answer<RateAnswer> {
  const { failures, total, exposure } = input
  needWhole(SUM, 'failures', failures, COUNT)
  if (input.confidence !== undefined) needWithin(SUM, 'confidence', input.confidence, CONFIDENCE)
  const tail = (1 - (input.confidence ?? 0.95)) / 2
  if (total !== undefined && exposure === undefined) return shareOf(failures, total, tail)
  if (exposure !== undefined && total === undefined) return rateOver(failures, exposure, tail)
  throw new RangeError(`${SUM} needs either total or exposure`)
}

function shareOf(failures: number, total: number, tail: number): Answer<RateAnswer> {
  needWhole(SUM, 'total', total, COUNT)
  if (failures > total) throw new RangeError(`${SUM} needs failures no more than total`)
  if (total === 0) return refuse('too-few-points', 'There is no rate of nothing; the total has to be 1 or more.')
  return answered({
    rate: failures / total,
    wilson: wilson(failures, total, -normalQuantile(tail)),
    exact: clopperPearson(failures, total, tail),
    method: SHARE_METHOD,
  })
}

function wilson(failures: number, total: number, z: number): RateInterval {
  const share = failures / total
  const square = z ** 2 / total
  const middle = share + square / 2
  const half = z * Math.sqrt((share * (1 - share)) / total + square / (4 * total))
  // At either end of the scale the bound is that end itself, and not its neighbour among the binary fractions.
  return {
    low: failures === 0 ? 0 : Math.max(0, (middle - half) / (1 + square)),
    high: failures === total ? 1 : Math.min(1, (middle + half) / (1 + square)),
  }
}

function clopperPearson(failures: number, total: number, tail: number): RateInterval {
  return {
    low: failures === 0 ? 0 : betaQuantile(tail, failures, total - failures + 1),
    high: failures === total ? 1 : betaQuantile(1 - tail, failures + 1, total - failures),
  }
}

function rateOver(failures: number, exposure: number, tail: number): Answer<RateAnswer> {
  needWithin(SUM, 'exposure', exposure, AMOUNT)
  if (exposure === 0) return refuse('too-few-points', 'There is no rate over no exposure; it has to be more than 0.')
  const exact = {
    low: failures === 0 ? 0 : chiSquareQuantile(tail, 2 * failures) / 2 / exposure,
    high: chiSquareQuantile(1 - tail, 2 * failures + 2) / 2 / exposure,
  }
  if (!Number.isFinite(exact.high)) return refuse('out-of-range', 'The exposure is too small for a rate; give it in a smaller unit.')
  return answered({ rate: failures / exposure, exact, method: EXPOSURE_METHOD })
}
