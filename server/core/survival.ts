import { type Answer, answered, refuse } from '#core/answer.ts'
import { AMOUNT, CONFIDENCE, needListOf, needWithin, SURVIVAL_GROUPS_MOST, SURVIVAL_ITEMS_MOST } from '#core/limits.ts'
import { normalQuantile } from '#core/numeric/distributions.ts'
import { type Lives, livesByGroup, type SurvivalItem } from '#core/survival-lives.ts'
import { type LogRank, logRank } from '#core/survival-log-rank.ts'
import { type IntervalKind, median, type SurvivalStep, steps } from '#core/survival-steps.ts'
import { fitWeibull, type Weibull } from '#core/survival-weibull.ts'

export interface SurvivalInput {
  items: readonly SurvivalItem[]
  /** Share of intervals that hold the truth; 0.95 unless said. */
  confidence?: number | undefined
  /** How the intervals are laid; log-log unless said. */
  interval?: IntervalKind | undefined
}

export interface SurvivalGroup {
  group: string
  count: number
  failures: number
  /** One for each time at which something failed. */
  steps: SurvivalStep[]
  /** Time at which half have failed; absent where more than half still run. */
  median?: number
  /** Absent under two different failure times. */
  weibull?: Weibull
}

const METHOD = { name: 'Kaplan–Meier with Greenwood’s variance; Weibull by maximum likelihood; log-rank', version: '1' } as const

export interface SurvivalAnswer {
  /** In the order in which the items name them first. */
  groups: SurvivalGroup[]
  /** For two groups or more; absent where there is nothing to tell them apart by, as said at `logRank`. */
  logRank?: LogRank
  method: typeof METHOD
}

const SUM = 'survival'

/**
 * How long things last, with those that still run (censored) counted as far as they came.
 *
 * @example survival({ items: [{ at: 1, failed: true }, { at: 2, failed: false }, { at: 3, failed: true }] }).value.groups[0].steps.map((step) => step.survival.toFixed(4)) // ['0.6667', '0.0000']
 *
 * `at` 0 to 1e9 in any one unit of use; a failure comes after 0. Items without a group stand in one named `all`; all items
 * have a group or none has; no more than 200 groups and 100,000 items; a group named by a number stands for its text. Confidence
 * 0.01–0.999999. A failure and a censoring at the same time: the failure counts as the earlier. Refuses no items
 * (`too-few-points`) and items of which none failed (`all-censored`).
 * Source: Kaplan and Meier (1958), Journal of the American Statistical Association 53:457–481; NIST/SEMATECH e-Handbook
 * 8.2.1.5; the rest at its own function.
 */
export function survival(input: SurvivalInput): Answer<SurvivalAnswer> {
  const lives = checkInput(input)
  if (input.items.length === 0) return refuse('too-few-points', 'Give at least one that failed.')
  if (!lives.some(({ failed }) => failed.length > 0)) {
    return refuse('all-censored', 'None of these has failed; how long they last cannot be said yet.')
  }
  const z = -normalQuantile((1 - (input.confidence ?? 0.95)) / 2)
  const answer: SurvivalAnswer = { groups: lives.map((one) => groupOf(one, z, input.interval ?? 'log-log')), method: METHOD }
  const test = logRank(lives)
  return answered(test === undefined ? answer : { ...answer, logRank: test })
}

function groupOf(lives: Lives, z: number, kind: IntervalKind): SurvivalGroup {
  const down = steps(lives, z, kind)
  const group: SurvivalGroup = { group: lives.group, count: lives.all.length, failures: lives.failed.length, steps: down }
  const half = median(down)
  const weibull = fitWeibull(lives)
  if (half !== undefined) group.median = half
  if (weibull !== undefined) group.weibull = weibull
  return group
}

function checkInput(input: SurvivalInput): Lives[] {
  needListOf(SUM, 'items', input.items, SURVIVAL_ITEMS_MOST)
  const grouped = input.items[0]?.group !== undefined
  for (const { at, failed, group } of input.items) {
    needWithin(SUM, 'at', at, AMOUNT)
    if (failed && at === 0) throw new RangeError(`${SUM} needs a failure to come after 0`)
    if ((group !== undefined) !== grouped) throw new RangeError(`${SUM} needs a group for all items or for none`)
  }
  if (input.confidence !== undefined) needWithin(SUM, 'confidence', input.confidence, CONFIDENCE)
  const lives = livesByGroup(input.items)
  if (lives.length > SURVIVAL_GROUPS_MOST) throw new RangeError(`${SUM} needs no more than ${SURVIVAL_GROUPS_MOST} groups`)
  return lives
}
