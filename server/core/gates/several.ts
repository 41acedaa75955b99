import { crackFound, missingForApart } from '#core/gates/apart.ts'
import type { Figure, JobFacts, SeveralFacts } from '#core/gates/facts.ts'
import { atJoint, isTaken, type Missing, missing, mm, notTaken, swingMm } from '#core/gates/missing.ts'
import { lastStirredAt } from '#core/gates/trued.ts'
import { isLater } from '#core/instants.ts'
import { phaseError } from '#core/phase.ts'
import { isWithin } from '#core/runout-verdict.ts'
import { placeOnPath, type Step } from '#core/steps.ts'

/** What is asked of each throw; all else is asked of the crank as one. */
const OF_A_THROW = /^(width|side-clearance|big-end-play|peak-tonnage|look-at-bores|crack|web-marks|kit-lot|fit-)/

/**
 * What a crank with several throws lacks: of each throw what a crank of its own would lack, of each pressed shaft between
 * them its parting, of the whole the rest, and then what only such a crank has: the parts between the webs, the angles of
 * the throws, the swing of the middle. The gate is the one of a crank with one throw.
 *
 * Source: common practice, no source.
 */
export function missingForSeveral(to: Step, facts: JobFacts & { several: SeveralFacts }, gate: (facts: JobFacts) => Missing[]): Missing[] {
  const { throws } = facts.several
  return [
    ...throws.flatMap(({ joint, facts: own }) =>
      gate(own)
        .filter(isOfAThrow)
        .map((one) => atJoint(one, joint)),
    ),
    ...missingInCentres(to, facts),
    ...gate(facts).filter((one) => !isOfAThrow(one)),
    ...missingInMiddle(to, facts),
  ]
}

function isOfAThrow({ code }: Missing): boolean {
  return OF_A_THROW.test(code)
}

function missingInCentres(to: Step, facts: JobFacts & { several: SeveralFacts }): Missing[] {
  return facts.several.centres.flatMap(({ joint, parting }) => {
    const own = { ...facts, parting }
    const list = to === 'apart' ? missingForApart(own) : isPast(to, 'apart', facts) ? crackFound(own) : []
    return list.map((one) => atJoint(one, joint))
  })
}

function missingInMiddle(to: Step, facts: JobFacts & { several: SeveralFacts }): Missing[] {
  if (to === 'together') return missingInTrapped(facts.several)
  if ((to !== 'trued' && to !== 'signed') || facts.kind === 'check-and-report') return []
  return [...missingInPhase(facts), ...missingInSwing(facts)]
}

function isPast(to: Step, step: Step, { kind }: JobFacts): boolean {
  return kind === 'rebuild' && placeOnPath(kind, to) > placeOnPath(kind, step)
}

function missingInTrapped({ trappedLeft }: SeveralFacts): Missing[] {
  if (trappedLeft.length === 0) return []
  return [
    missing('trapped-parts', `Nobody has ticked as in between the webs: ${trappedLeft.join(', ')}. Pressed without, it comes apart again.`),
  ]
}

function missingInPhase(facts: JobFacts & { several: SeveralFacts }): Missing[] {
  const { phase, phaseLimitDeg: limitDeg } = facts.several
  return phase.flatMap(({ joint, nominalDeg, read }) => {
    const list = missingOrOld('phase', { name: 'The angle from throw 1', figure: read }, facts)
    if (isTaken(read)) {
      const { errorDeg, verdict } = phaseError({ measuredDeg: read.value, nominalDeg, limitDeg })
      const out = `It stands ${degrees(Math.abs(errorDeg))}° ${errorDeg > 0 ? 'past' : 'short of'} its ${degrees(nominalDeg)}°, allowed ${degrees(limitDeg)}° either way.`
      if (verdict === 'over') list.push(missing('phase-out-of-limit', out, read.takenAt))
    }
    return list.map((one) => atJoint(one, joint))
  })
}

function missingInSwing(facts: JobFacts & { several: SeveralFacts }): Missing[] {
  const { middle, centreLimitMm } = facts.several
  return middle.flatMap(({ joint, read }) => {
    const list = missingOrOld('centre-runout', { name: 'The swing of the middle', figure: read }, facts)
    if (isTaken(read) && !isWithin(read.value, centreLimitMm))
      list.push(missing('centre-runout-over', `The middle swings ${swingMm(read.value)}, allowed ${mm(centreLimitMm)}.`, read.takenAt))
    return list.map((one) => atJoint(one, joint))
  })
}

function missingOrOld(
  code: 'phase' | 'centre-runout',
  { name, figure }: { name: string; figure: Figure<number> },
  facts: JobFacts,
): Missing[] {
  const stirredAt = lastStirredAt(facts)
  if (!isTaken(figure)) return [notTaken(code, { name, figure, since: stirredAt })]
  if (isLater(figure.takenAt, stirredAt)) return []
  return [missing(`${code}-older-than-last-move`, `${name} was read before the last move. Read it again.`, stirredAt)]
}

function degrees(angle: number): string {
  return String(Number(angle.toFixed(2)))
}
