import betaQuantileOf from '@stdlib/stats-base-dists-beta-quantile'
import chiSquareCdf from '@stdlib/stats-base-dists-chisquare-cdf'
import chiSquareQuantileOf from '@stdlib/stats-base-dists-chisquare-quantile'
import fCdf from '@stdlib/stats-base-dists-f-cdf'
import hypergeometricPmfOf from '@stdlib/stats-base-dists-hypergeometric-pmf'
import normalQuantileOf from '@stdlib/stats-base-dists-normal-quantile'
import tQuantile from '@stdlib/stats-base-dists-t-quantile'

/** The one file of the core that reaches a package. Truing, width, fit, steps and units never import it. */

/** Above so many degrees of freedom Student's t and the normal distribution agree to eleven digits, and the library's t fails. */
const T_IS_NORMAL = 1e12
/** From about 2000 degrees of freedom on, the library's chi-square has its upper half wrong in the fourth digit. */
const CHI_SQUARE_MOST = 1000

/**
 * The value that Student's t stays below with the given probability.
 *
 * @example studentTQuantile(0.975, 9).toFixed(3) // '2.262'
 *
 * Probability in (0, 1), degrees of freedom more than 0, need not be whole. Refuses others (RangeError).
 */
export function studentTQuantile(probability: number, degreesOfFreedom: number): number {
  needProbability('studentTQuantile', probability)
  needDegrees('studentTQuantile', degreesOfFreedom)
  return degreesOfFreedom > T_IS_NORMAL ? normalQuantile(probability) : tQuantile(probability, degreesOfFreedom)
}

/**
 * The value that a standard normal number stays below with the given probability.
 *
 * @example normalQuantile(0.975).toFixed(6) // '1.959964'
 *
 * Probability in (0, 1). Refuses others (RangeError).
 */
export function normalQuantile(probability: number): number {
  needProbability('normalQuantile', probability)
  return normalQuantileOf(probability, 0, 1)
}

/**
 * The value that chi-square stays below with the given probability.
 *
 * @example chiSquareQuantile(0.975, 2).toFixed(4) // '7.3778'
 *
 * Probability in (0, 1), degrees of freedom more than 0, need not be whole. Refuses others (RangeError). Above 1000 degrees
 * of freedom by the expansion of Cornish and Fisher (Goldberg and Levine 1946, Annals of Mathematical Statistics 17:216–225,
 * from memory), which is then good to nine digits.
 */
export function chiSquareQuantile(probability: number, degreesOfFreedom: number): number {
  needProbability('chiSquareQuantile', probability)
  needDegrees('chiSquareQuantile', degreesOfFreedom)
  if (degreesOfFreedom <= CHI_SQUARE_MOST) return chiSquareQuantileOf(probability, degreesOfFreedom)
  const z = normalQuantile(probability)
  const n = degreesOfFreedom
  return (
    n +
    Math.sqrt(2 * n) * z +
    (2 / 3) * (z ** 2 - 1) +
    (z ** 3 - 7 * z) / (9 * Math.sqrt(2 * n)) -
    (6 * z ** 4 + 14 * z ** 2 - 32) / (405 * n) +
    (9 * z ** 5 + 256 * z ** 3 - 433 * z) / (4860 * Math.SQRT2 * n ** 1.5) +
    (12 * z ** 6 - 243 * z ** 4 - 923 * z ** 2 + 1472) / (25_515 * n ** 2)
  )
}

/**
 * How likely chi-square is to be as great as a value, or greater.
 *
 * @example chiSquareUpper(3.841459, 1).toFixed(4) // '0.0500'
 *
 * Value 0 or more, a whole number of degrees of freedom from 1 to 1000. Refuses others (RangeError). Far out in the tail,
 * where 1 less the library's figure would lose its digits, by the continued fraction of the incomplete gamma function (NIST
 * Digital Library of Mathematical Functions 8.9.2, from memory).
 */
export function chiSquareUpper(value: number, degreesOfFreedom: number): number {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY)) throw new RangeError('chiSquareUpper needs a value of 0 or more')
  if (!(Number.isInteger(degreesOfFreedom) && degreesOfFreedom >= 1 && degreesOfFreedom <= CHI_SQUARE_MOST)) {
    throw new RangeError(`chiSquareUpper needs a whole number of degrees of freedom from 1 to ${CHI_SQUARE_MOST}`)
  }
  const below = chiSquareCdf(value, degreesOfFreedom)
  return below < 0.99 ? 1 - below : upperGamma(degreesOfFreedom, value / 2)
}

/** Γ(degrees/2, x)/Γ(degrees/2) for x well above degrees/2, by the continued fraction, in the manner of Lentz. */
function upperGamma(degrees: number, x: number): number {
  const a = degrees / 2
  let logGamma = degrees % 2 === 0 ? 0 : Math.log(Math.PI) / 2
  for (let step = degrees % 2 === 0 ? 1 : 0.5; step < a; step++) logGamma += Math.log(step)
  let b = x + 1 - a
  let c = Number.POSITIVE_INFINITY
  let d = 1 / b
  let fraction = d
  for (let i = 1; i <= 1000; i++) {
    const an = -i * (i - a)
    b += 2
    d = 1 / (an * d + b)
    c = b + an / c
    const factor = c * d
    fraction *= factor
    if (Math.abs(factor - 1) < 1e-15) break
  }
  return Math.exp(a * Math.log(x) - x - logGamma) * fraction
}

/**
 * The value that a beta number stays below with the given probability.
 *
 * @example betaQuantile(0.975, 1, 20).toFixed(4) // '0.1684'
 *
 * Probability in (0, 1), both shapes more than 0. Refuses others (RangeError).
 */
export function betaQuantile(probability: number, first: number, second: number): number {
  needProbability('betaQuantile', probability)
  if (!(isPositive(first) && isPositive(second))) throw new RangeError('betaQuantile needs two shapes more than 0')
  return betaQuantileOf(probability, first, second)
}

/**
 * How likely F is to be as great as a ratio, or greater.
 *
 * @example fUpper(4.0012, 1, 60).toFixed(4) // '0.0500'
 *
 * Ratio 0 or more, both degrees of freedom more than 0. Refuses others (RangeError).
 */
export function fUpper(ratio: number, over: number, under: number): number {
  if (!(ratio >= 0 && ratio < Number.POSITIVE_INFINITY)) throw new RangeError('fUpper needs a ratio of 0 or more')
  needDegrees('fUpper', over)
  needDegrees('fUpper', under)
  // The other way up F has its tails changed over, so that a small chance keeps its digits.
  return ratio === 0 ? 1 : fCdf(1 / ratio, under, over)
}

/**
 * How likely it is that of `drawn` out of `population`, `marked` of which bear a mark, just `found` bear it.
 *
 * @example hypergeometricPmf(3, 8, 4, 4).toFixed(6) // '0.228571'
 *
 * Whole numbers, marked and drawn no more than the population. Refuses others (RangeError).
 */
export function hypergeometricPmf(found: number, population: number, marked: number, drawn: number): number {
  const counts = [found, population, marked, drawn]
  if (!counts.every((count) => Number.isInteger(count) && count >= 0) || marked > population || drawn > population) {
    throw new RangeError('hypergeometricPmf needs whole counts, none of them over the population')
  }
  return hypergeometricPmfOf(found, population, marked, drawn)
}

function needProbability(name: string, probability: number): void {
  if (!(probability > 0 && probability < 1)) throw new RangeError(`${name} needs a probability between 0 and 1`)
}

function needDegrees(name: string, degreesOfFreedom: number): void {
  if (!isPositive(degreesOfFreedom)) throw new RangeError(`${name} needs degrees of freedom more than 0`)
}

function isPositive(value: number): boolean {
  return value > 0 && value < Number.POSITIVE_INFINITY
}
