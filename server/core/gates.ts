import { missingForAgreed } from '#core/gates/agreed.ts'
import { crackFound, missingForApart } from '#core/gates/apart.ts'
import type { JobFacts } from '#core/gates/facts.ts'
import { missingForGone } from '#core/gates/gone.ts'
import { missingForMeasured } from '#core/gates/measured.ts'
import type { Missing } from '#core/gates/missing.ts'
import { missingForSeveral } from '#core/gates/several.ts'
import { missingForSigned } from '#core/gates/signed.ts'
import { looseFits, maskedOilHole, missingForTogether } from '#core/gates/together.ts'
import { missingForTrued } from '#core/gates/trued.ts'
import { PATHS, type Step } from '#core/steps.ts'

/** The one table of gates: what is asked before a job may be called each step. */
const GATES: Readonly<Record<Step, (facts: JobFacts) => Missing[]>> = {
  booked: () => [],
  measured: missingForMeasured,
  agreed: missingForAgreed,
  apart: missingForApart,
  together: missingForTogether,
  trued: (facts) => [...stops(facts), ...missingForTrued(facts)],
  signed: (facts) => [...stops(facts), ...missingForSigned(facts)],
  gone: (facts) => [...stops(facts), ...missingForGone(facts)],
}

/**
 * What a job still lacks before it may be called this step; empty when the gate is open. A figure that was deliberately
 * not read is missing too: the owner may let it pass, and the certificate prints a dash. Three things nobody can let
 * pass, and they stop every later gate as well: a crack, a fit under the scrap floor (0.0022 × pin Ø unless the shop says
 * otherwise), a masked oil hole.
 *
 * Refuses (RangeError) a step that this kind of job does not have, and facts with a figure that is not a number.
 * Source: common practice, no source.
 *
 * @example missingFor('agreed', { ...facts, quote: null })[0]?.code // 'quote'
 */
export function missingFor(to: Step, facts: JobFacts): Missing[] {
  if (!PATHS[facts.kind].includes(to)) throw new RangeError(`missingFor needs a step on the path of ${facts.kind}`)
  requireNumbers(facts)
  return facts.several === undefined ? GATES[to](facts) : missingForSeveral(to, { ...facts, several: facts.several }, GATES[to])
}

/** A report may be written of a crank in any state; no other job goes on past these. */
function stops(facts: JobFacts): Missing[] {
  return facts.kind === 'check-and-report' ? [] : [...crackFound(facts), ...looseFits(facts), ...maskedOilHole(facts)]
}

function requireNumbers(part: unknown): void {
  if (typeof part === 'number' && !Number.isFinite(part)) throw new RangeError('missingFor needs figures that are numbers')
  if (typeof part === 'object' && part !== null) for (const inner of Object.values(part)) requireNumbers(inner)
}
