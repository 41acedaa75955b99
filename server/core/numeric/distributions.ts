import tQuantile from '@stdlib/stats-base-dists-t-quantile'

/** The one file of the core that reaches a package. Truing, width, fit, steps and units never import it. */

/**
 * The value that Student's t stays below with the given probability.
 *
 * @example studentTQuantile(0.975, 9).toFixed(3) // '2.262'
 *
 * Probability in (0, 1), degrees of freedom more than 0, need not be whole. Refuses others (RangeError).
 */
export function studentTQuantile(probability: number, degreesOfFreedom: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError('studentTQuantile needs a probability between 0 and 1')
  if (!(degreesOfFreedom > 0 && degreesOfFreedom < Number.POSITIVE_INFINITY)) {
    throw new RangeError('studentTQuantile needs degrees of freedom more than 0')
  }
  return tQuantile(probability, degreesOfFreedom)
}
