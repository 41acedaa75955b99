import type { Missing, MissingCode } from '#core/gates/missing.ts'
import { LIMIT_OUTCOME_WORDS } from '#core/runout-verdict.ts'

/** What is said of the first reading without its figures: whoever reads second must not learn them from here. */
const WITHOUT_FIGURES: Partial<Readonly<Record<MissingCode, string>>> = {
  'runout-left-over-house': `The left end is ${LIMIT_OUTCOME_WORDS['over-house']}.`,
  'runout-right-over-house': `The right end is ${LIMIT_OUTCOME_WORDS['over-house']}.`,
  'runout-left-over-house-inside-maker': `The left end is ${LIMIT_OUTCOME_WORDS['over-house-inside-maker']}.`,
  'runout-right-over-house-inside-maker': `The right end is ${LIMIT_OUTCOME_WORDS['over-house-inside-maker']}.`,
}

export function saidWithoutFigures(missing: Missing): string {
  return WITHOUT_FIGURES[missing.code] ?? missing.detail
}
