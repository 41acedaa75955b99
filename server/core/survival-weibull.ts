import type { Lives } from '#core/survival-lives.ts'

/** Share that outlives t: exp(−(t/scale)^shape). */
export interface Weibull {
  /** Under 1: failures get rarer with use; over 1: more frequent. */
  shape: number
  /** Use at which 63 % have failed, in the unit of the lives. */
  scale: number
  logLikelihood: number
}

/**
 * The Weibull curve under which these lives are likeliest, those that still run counted as having come so far at least.
 * Undefined under two different failure times, and where the curve runs beyond every number that can be written.
 *
 * @example fitWeibull({ group: 'all', failed: Float64Array.of(1, 2, 4), all: Float64Array.of(1, 2, 4) }).shape.toFixed(4) // '2.0125'
 *
 * The shape is the root of Σ t^k ln t/Σ t^k − 1/k − mean ln t of the failures, which rises with k; found by Newton's steps,
 * kept between bounds. Lives are measured by the longest, so that no power of them is too large.
 * Source: NIST/SEMATECH e-Handbook 8.4.1.3; Abernethy, The New Weibull Handbook, appendix C.
 */
export function fitWeibull({ failed, all }: Lives): Weibull | undefined {
  const count = failed.length
  if (count === 0 || failed[0] === failed[count - 1]) return undefined
  const longest = all[all.length - 1]!
  // A life of 0 that did not fail says nothing under any shape.
  const logs = all.filter((at) => at > 0).map((at) => logShare(at, longest))
  const logsFailed = failed.map((at) => logShare(at, longest))
  const meanFailed = logsFailed.reduce((total, log) => total + log, 0) / count
  const scatter = Math.sqrt(logsFailed.reduce((total, log) => total + (log - meanFailed) ** 2, 0) / count)
  const shape = rootOf(logs, meanFailed, Math.PI / Math.sqrt(6) / scatter)
  if (shape === undefined) return undefined
  const logScale = Math.log(longest) + Math.log(powers(logs, shape).sum / count) / shape
  const logFailed = meanFailed + Math.log(longest)
  const logLikelihood = count * (Math.log(shape) - shape * logScale + (shape - 1) * logFailed - 1)
  const fit = { shape, scale: Math.exp(logScale), logLikelihood }
  return fit.scale > 0 && Object.values(fit).every(Number.isFinite) ? fit : undefined
}

/** ln(at/longest), without losing what lies close to 1 or far below. */
function logShare(at: number, longest: number): number {
  return at > longest / 2 ? Math.log1p((at - longest) / longest) : Math.log(at) - Math.log(longest)
}

/** Sums over all lives of t^k, t^k ln t and t^k (ln t)², t measured by the longest. */
function powers(logs: Float64Array, k: number): { sum: number; first: number; second: number } {
  let sum = 0
  let first = 0
  let second = 0
  for (let index = 0; index < logs.length; index++) {
    const log = logs[index]!
    const power = Math.exp(k * log)
    sum += power
    first += power * log
    second += power * log * log
  }
  return { sum, first, second }
}

/** guess: the shape that lives of such scatter would have if all had failed. */
function rootOf(logs: Float64Array, meanFailed: number, guess: number): number | undefined {
  // Where k is −1/mean, nothing but a sum of values not over 0 is left: the root lies there or above.
  let low = -1 / meanFailed
  let high = Number.POSITIVE_INFINITY
  let k = guess > low && Number.isFinite(guess) ? guess : low
  for (let step = 0; step < 500 && k < Number.POSITIVE_INFINITY; step++) {
    const { sum, first, second } = powers(logs, k)
    const ratio = first / sum
    const height = ratio - 1 / k - meanFailed
    if (height > 0) high = k
    else low = k
    const newton = k - height / (second / sum - ratio ** 2 + 1 / k ** 2)
    const bisected = high === Number.POSITIVE_INFINITY ? 2 * k : (low + high) / 2
    const next = newton > low && newton < high ? newton : bisected
    // Newton's steps square what is wrong: after one of a billionth nothing is left to mend.
    if (Math.abs(next - k) <= 1e-9 * k && next === newton) return next
    if (next === k) return k
    k = next
  }
  return k < Number.POSITIVE_INFINITY ? k : undefined
}
