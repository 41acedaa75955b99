import { chiSquareUpper, normalQuantile } from '#core/numeric/distributions.ts'
import { median, type SurvivalStep } from '#core/survival-steps.ts'

/**
 * The survival sum from counts by hour instead of one item a crank, so that it costs the same however many cranks went
 * home. It answers what `survival` answers of the same cranks one by one, which a test asks.
 */

/** Cranks at one number of hours: so many came so far and no further is known of them, of these so many came back. */
export interface HourCount {
  hours: number
  count: number
  back: number
}

export interface StillRunning {
  steps: SurvivalStep[]
  medianHours?: number
}

/**
 * What still runs, by hours: Kaplan and Meier's curve with Greenwood's variance and 95 % intervals laid on log(−log). At the
 * same hours a crank that came back counts as the earlier.
 *
 * @example stillRunning([{ hours: 1, count: 1, back: 1 }, { hours: 2, count: 1, back: 0 }, { hours: 3, count: 1, back: 1 }]).steps.map((step) => step.survival.toFixed(4)) // ['0.6667', '0.0000']
 *
 * Hours 0 or more, over 0 where some came back, each number of hours once; whole counts, no more back than there are.
 * Refuses (RangeError) others. Source: as `survival`: Kaplan and Meier (1958), Greenwood (1926).
 */
export function stillRunning(counts: readonly HourCount[]): StillRunning {
  const sorted = inOrder(counts)
  const z = normalQuantile(0.975)
  const steps: SurvivalStep[] = []
  let atRisk = sorted.reduce((sum, { count }) => sum + count, 0)
  let survival = 1
  let variance = 0
  for (const { hours, count, back } of sorted) {
    if (back > 0) {
      survival *= (atRisk - back) / atRisk
      variance += back / (atRisk * (atRisk - back))
      steps.push({ at: hours, atRisk, failures: back, survival, ...(survival === 0 ? {} : interval(survival, z * Math.sqrt(variance))) })
    }
    atRisk -= count
  }
  const half = median(steps)
  return half === undefined ? { steps } : { steps, medianHours: half }
}

function interval(survival: number, half: number): { low: number; high: number } {
  const log = Math.log(survival)
  const stretch = Math.exp(half / -log)
  return { low: Math.exp(log * stretch), high: Math.exp(log / stretch) }
}

/**
 * Whether two groups run equally long: the log-rank test, one degree of freedom. Undefined where nothing came back, where
 * one group was not heard of as far as the first that came back, and where all came back at once.
 *
 * @example logRankOfTwo([{ hours: 1, count: 2, back: 1 }], [{ hours: 1, count: 2, back: 1 }]).p // 1
 *
 * Refuses (RangeError) as stillRunning does. Source: Mantel (1966), Peto and Peto (1972), from memory.
 */
export function logRankOfTwo(one: readonly HourCount[], other: readonly HourCount[]): { chiSquare: number; p: number } | undefined {
  const groups = [inOrder(one), inOrder(other)] as const
  const times = [...new Set(groups.flatMap((group) => group.filter(({ back }) => back > 0).map(({ hours }) => hours)))].sort(
    (a, b) => a - b,
  )
  const first = times[0]
  if (first === undefined || groups.some((group) => !((group.at(-1)?.hours ?? -1) >= first))) return undefined
  const risk = groups.map((group) => riskAt(group, times))
  let away = 0
  let variance = 0
  times.forEach((_hours, index) => {
    const [mine, others] = [risk[0]![index]!, risk[1]![index]!]
    const all = mine.atRisk + others.atRisk
    const back = mine.back + others.back
    away += mine.back - (back * mine.atRisk) / all
    variance += all === 1 ? 0 : (back * (all - back) * mine.atRisk * others.atRisk) / (all * all * (all - 1))
  })
  if (variance === 0) return undefined
  const chiSquare = away ** 2 / variance
  return { chiSquare, p: chiSquareUpper(chiSquare, 1) }
}

/** How many of a group had come as far as each of these hours, and how many of them came back there. */
function riskAt(group: readonly HourCount[], times: readonly number[]): { atRisk: number; back: number }[] {
  let left = group.reduce((sum, { count }) => sum + count, 0)
  let next = 0
  return times.map((hours) => {
    for (; (group[next]?.hours ?? Number.POSITIVE_INFINITY) < hours; next++) left -= group[next]!.count
    const here = group[next]
    return { atRisk: left, back: here?.hours === hours ? here.back : 0 }
  })
}

function inOrder(counts: readonly HourCount[]): HourCount[] {
  for (const { hours, count, back } of counts) {
    const isWhole = Number.isSafeInteger(count) && Number.isSafeInteger(back)
    if (!(Number.isFinite(hours) && hours >= 0) || !isWhole || back < 0 || back > count || (hours === 0 && back > 0))
      throw new RangeError('stillRunning needs hours of 0 or more, after 0 where some came back, with whole counts')
  }
  const sorted = [...counts].filter(({ count }) => count > 0).sort((a, b) => a.hours - b.hours)
  if (sorted.some(({ hours }, index) => hours === sorted[index + 1]?.hours))
    throw new RangeError('stillRunning needs each number of hours once')
  return sorted
}
