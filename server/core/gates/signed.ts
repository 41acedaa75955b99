import type { Figure, JobFacts, SecondSet, ThirdSet } from '#core/gates/facts.ts'
import { isTaken, type Missing, missing, notTaken, swingMm } from '#core/gates/missing.ts'
import { lastStirredAt, missingForTrued } from '#core/gates/trued.ts'
import { isLater, latestOf } from '#core/instants.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { type EndSet, type ReadingsAgreement, secondReadingAgrees } from '#core/second-reading.ts'

/** Signed: a second reading that confirms the first, no instrument overdue or in doubt, the certificate made of these very readings. */
export function missingForSigned(facts: JobFacts): Missing[] {
  const stirredAt = lastStirredAt(facts)
  const list = [...missingInFirst(facts), ...missingInSecond(facts, stirredAt)]
  if (facts.overdueInstruments.length > 0) {
    const names = facts.overdueInstruments.join(', ')
    list.push(missing('instrument-overdue', `Overdue for its check: ${names}. Check it, or read again with another.`))
  }
  if (facts.doubtedInstruments.length > 0) {
    const doubts = facts.doubtedInstruments.join(', ')
    list.push(
      missing('instrument-in-doubt', `In doubt: ${doubts}. It signs nothing until a check finds it good, or read again with another.`),
    )
  }
  return [...list, ...missingInCertificate(facts)]
}

/** What made it true has to hold still: a blow after that takes it back. A report says how the crank came in, true or not. */
function missingInFirst(facts: JobFacts): Missing[] {
  if (facts.kind !== 'check-and-report') return missingForTrued(facts)
  const { runout } = facts.received
  return SIDES.filter((side) => !isTaken(runout[side])).map((side) =>
    notTaken(`runout-${side}-as-received`, { name: `The ${side} end as received`, figure: runout[side] }),
  )
}

function missingInSecond(facts: JobFacts, stirredAt: string | null): Missing[] {
  const { secondSet } = facts
  if (secondSet === null) return [missing('second-reading', 'Nobody has read both ends a second time yet.', stirredAt)]
  const list: Missing[] = []
  if (!secondSet.byAnotherPerson && !facts.settings.samePersonMayCheck) {
    list.push(
      missing(
        'second-reading-by-the-same-person',
        'The second reading is by the person who took the first. Ask somebody else.',
        secondSet.takenAt,
      ),
    )
  }
  if (!secondSet.firstHidden) {
    list.push(missing('second-reading-saw-the-first', 'The second reading was taken with the first in sight.', secondSet.takenAt))
  }
  if (!isLater(secondSet.takenAt, stirredAt)) {
    list.push(
      missing('second-reading-older-than-last-move', 'The second reading was taken before the last move. Read it again.', stirredAt),
    )
  }
  for (const side of SIDES) {
    const end = secondSet.tirMm[side]
    if (!isTaken(end))
      list.push(
        notTaken(`second-reading-${side}`, { name: `The second reading of the ${side} end`, figure: end, since: secondSet.takenAt }),
      )
  }
  return [...list, ...disagreement(facts, secondSet, stirredAt)]
}

function disagreement(facts: JobFacts, secondSet: SecondSet, stirredAt: string | null): Missing[] {
  const first = firstSet(facts)
  const second = swings(secondSet.tirMm)
  if (SIDES.every((side) => first[side] === null || second[side] === null)) return []
  const thirdSet = facts.thirdSet !== null && isLater(facts.thirdSet.takenAt, stirredAt) ? facts.thirdSet : null
  const agreement = secondReadingAgrees({
    first,
    second,
    third: thirdSet === null ? null : swings(thirdSet.tirMm),
    giveOrTake: facts.giveOrTakeMm,
    houseLimit: houseLimits(facts),
  })
  return agreement.agrees ? [] : disagreementInWords(agreement, { first, second, secondSet, thirdSet })
}

function disagreementInWords(
  agreement: ReadingsAgreement & { agrees: false },
  sets: { first: EndSet; second: EndSet; secondSet: SecondSet; thirdSet: ThirdSet | null },
): Missing[] {
  const { first, second, secondSet, thirdSet } = sets
  if (thirdSet !== null) {
    const since = latestOf([secondSet.takenAt, thirdSet.takenAt])
    return [
      missing('third-set-settles-nothing', 'The third set does not agree, inside the limit, with either of the two before it.', since),
    ]
  }
  const said = (side: Side) => `The ${side} end read ${swingMm(first[side] ?? 0)} first and ${swingMm(second[side] ?? 0)} the second time`
  return [
    ...agreement.overHouse.map((side) =>
      missing(`second-reading-over-house-${side}`, `${said(side)}: over our limit. A third set settles it.`, secondSet.takenAt),
    ),
    ...agreement.differing.map((side) =>
      missing(
        `readings-differ-${side}`,
        `${said(side)}: more apart than the give-or-take allows. A third set settles it.`,
        secondSet.takenAt,
      ),
    ),
  ]
}

function missingInCertificate(facts: JobFacts): Missing[] {
  const { certificate, asItStands, received, secondSet, thirdSet } = facts
  const paper = facts.kind === 'check-and-report' ? 'report of runout' : 'certificate'
  if (certificate === null) return [missing('certificate', `The ${paper} is not made yet.`)]
  const ends = facts.kind === 'check-and-report' ? received.runout : asItStands.runout
  const newest = latestOf([
    takenAt(ends.left),
    takenAt(ends.right),
    takenAt(asItStands.width),
    takenAt(asItStands.sideClearance),
    secondSet?.takenAt ?? null,
    thirdSet?.takenAt ?? null,
    lastStirredAt(facts),
    facts.several?.readAt ?? null,
  ])
  if (newest === null || !isLater(newest, certificate.madeAt)) return []
  return [missing('certificate-older-than-readings', `The ${paper} was made before the newest reading. Make a corrected one.`, newest)]
}

function firstSet(facts: JobFacts): EndSet {
  if (facts.kind === 'check-and-report') return swings(facts.received.runout)
  const { left, right } = facts.asItStands.runout
  return { left: isTaken(left) ? left.value.tirMm : null, right: isTaken(right) ? right.value.tirMm : null }
}

function swings(ends: Readonly<Record<Side, Figure<number>>>): EndSet {
  return { left: isTaken(ends.left) ? ends.left.value : null, right: isTaken(ends.right) ? ends.right.value : null }
}

/** A report has no limit to meet. */
function houseLimits(facts: JobFacts): EndSet {
  if (facts.kind === 'check-and-report') return { left: null, right: null }
  return { left: facts.limits.left?.houseMm ?? null, right: facts.limits.right?.houseMm ?? null }
}

function takenAt(figure: Figure<unknown>): string | null {
  return isTaken(figure) ? figure.takenAt : null
}
