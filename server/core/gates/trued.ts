import type { EndLimits, EndSwing, JobFacts, Taken } from '#core/gates/facts.ts'
import { isTaken, type Missing, missing, mm, notTaken, swingMm } from '#core/gates/missing.ts'
import { missingInSideClearance, missingInWidth } from '#core/gates/together.ts'
import { isLater, latestOf } from '#core/instants.ts'
import { LIMIT_OUTCOME_WORDS, limitOutcome, SIDES, type Side } from '#core/runout-verdict.ts'

/** Trued: both ends inside the limit of the house at the place it names, and width and side clearance read again after the last move. */
export function missingForTrued(facts: JobFacts): Missing[] {
  const stirredAt = lastStirredAt(facts)
  const list: Missing[] = []
  if (facts.kind === 'weld-only' && facts.weldedAt === null)
    list.push(missing('weld', 'It came to be welded, and no weld is written down.'))
  for (const side of SIDES) list.push(...missingInEnd(facts, side, stirredAt), ...overLimit(facts, side))
  list.push(...missingInWidth(facts, stirredAt), ...missingInSideClearance(facts, stirredAt))
  return list
}

/** When anything last moved the webs: a parting, a pressing, a blow, a wedge, a squeeze, a weld. Older readings say nothing now. */
export function lastStirredAt(facts: JobFacts): string | null {
  return latestOf([facts.parting?.at ?? null, facts.lastPressingAt, facts.lastMoveAt, facts.weldedAt])
}

/** One end read for true, later than the last move, and cold where the pin is welded. */
function missingInEnd(facts: JobFacts, side: Side, stirredAt: string | null): Missing[] {
  const end = facts.asItStands.runout[side]
  if (!isTaken(end)) return [notTaken(`runout-${side}`, { name: `The ${side} end`, figure: end, since: stirredAt })]
  const list: Missing[] = []
  if (!isLater(end.takenAt, stirredAt)) {
    list.push(missing(`runout-${side}-older-than-last-move`, `The ${side} end was read before the last move. Read it again.`, stirredAt))
  }
  if (facts.weldedAt !== null && !end.value.cold) {
    list.push(missing(`runout-${side}-not-cold`, `The pin is welded: read the ${side} end again when it is cold.`, end.takenAt))
  }
  return list
}

function overLimit(facts: JobFacts, side: Side): Missing[] {
  const end = facts.asItStands.runout[side]
  if (!isTaken(end)) return []
  if (!end.value.atStatedPlace) {
    const detail = `The ${side} end was not read at the place, or not held the way, that its limit says.`
    return [missing(`runout-${side}-not-at-stated-place`, detail, end.takenAt)]
  }
  const limits = facts.limits[side]
  if (limits === null) return [missing(`house-limit-${side}`, `Our sheet for this engine has no limit for the ${side} end.`)]
  return againstLimits(side, end, limits)
}

function againstLimits(side: Side, end: Taken<EndSwing>, limits: EndLimits): Missing[] {
  const { tirMm } = end.value
  const outcome = limitOutcome({ tirMm, houseLimitMm: limits.houseMm, makerLimitMm: limits.makerMm })
  if (outcome === 'inside-house') return []
  const maker = limits.makerMm === null ? '' : `, the maker allows ${mm(limits.makerMm)}`
  const detail = `The ${side} end swings ${swingMm(tirMm)}: ${LIMIT_OUTCOME_WORDS[outcome]}. We allow ${mm(limits.houseMm)}${maker}.`
  const code =
    outcome === 'over-house-inside-maker' ? (`runout-${side}-over-house-inside-maker` as const) : (`runout-${side}-over-house` as const)
  return [missing(code, detail, end.takenAt)]
}
