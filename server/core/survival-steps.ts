import type { Lives } from '#core/survival-lives.ts'

export const INTERVAL_KINDS = ['log-log', 'log', 'plain'] as const
export type IntervalKind = (typeof INTERVAL_KINDS)[number]

/** What is left after the failures at one time. */
export interface SurvivalStep {
  at: number
  /** How many had come so far and not failed before. */
  atRisk: number
  failures: number
  /** Share that outlives this time. */
  survival: number
  /** Ends of the confidence interval, within 0 to 1; both absent where survival is 0, since no formula has any there. */
  low?: number
  high?: number
}

/** Products of fractions miss one half by their last bits. */
const HALF_DUST = 1e-9

/**
 * The steps of Kaplan and Meier's curve, one for each time with a failure, z standard errors wide each way.
 *
 * @example steps({ group: 'all', failed: Float64Array.of(2), all: Float64Array.of(1, 2, 3, 4) }, 1.96, 'plain')[0].survival.toFixed(4) // '0.6667'
 *
 * Both lists in rising order, every failure in both. Source: Kaplan and Meier (1958); variance Greenwood (1926), as in NIST/SEMATECH e-Handbook 8.2.1.5; the kinds of interval
 * as in Kalbfleisch and Prentice, The Statistical Analysis of Failure Time Data, from memory.
 */
export function steps({ failed, all }: Lives, z: number, kind: IntervalKind): SurvivalStep[] {
  const down: SurvivalStep[] = []
  let survival = 1
  /** Greenwood's sum: the variance of ln survival. */
  let variance = 0
  let gone = 0
  let next = 0
  while (next < failed.length) {
    const at = failed[next]!
    let failures = 0
    for (; failed[next] === at; next++) failures++
    while (all[gone]! < at) gone++
    const atRisk = all.length - gone
    survival *= (atRisk - failures) / atRisk
    variance += failures / (atRisk * (atRisk - failures))
    if (survival === 0) {
      down.push({ at, atRisk, failures, survival })
      continue
    }
    const { low, high } = limits(survival, z * Math.sqrt(variance), kind)
    down.push({ at, atRisk, failures, survival, low, high })
  }
  return down
}

/** half: z standard errors of ln survival. */
function limits(survival: number, half: number, kind: IntervalKind): { low: number; high: number } {
  if (kind === 'plain') return { low: Math.max(0, survival - half * survival), high: Math.min(1, survival + half * survival) }
  if (kind === 'log') return { low: survival * Math.exp(-half), high: Math.min(1, survival * Math.exp(half)) }
  const log = Math.log(survival)
  const stretch = Math.exp(half / -log)
  return { low: Math.exp(log * stretch), high: Math.exp(log / stretch) }
}

/**
 * First time at which no more than half are left; where just half are left until the next failure, the middle between the two.
 * Undefined where more than half are left at the end.
 *
 * @example median([{ at: 3, atRisk: 2, failures: 1, survival: 0.5 }, { at: 8, atRisk: 1, failures: 1, survival: 0 }]) // 5.5
 */
export function median(down: readonly SurvivalStep[]): number | undefined {
  const index = down.findIndex((step) => step.survival <= 0.5 + HALF_DUST)
  const step = down[index]
  if (step === undefined) return undefined
  const next = down[index + 1]
  return next !== undefined && Math.abs(step.survival - 0.5) <= HALF_DUST ? (step.at + next.at) / 2 : step.at
}
