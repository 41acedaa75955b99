import type { JobFacts } from '#core/gates/facts.ts'
import { isTaken, type Missing, missing, notTaken } from '#core/gates/missing.ts'
import { SIDES } from '#core/runout-verdict.ts'

/** Apart: what the gauge showed on each side, a look at both bores, the webs marked left and right. */
export function missingForApart(facts: JobFacts): Missing[] {
  const { parting } = facts
  const list: Missing[] = []
  for (const side of SIDES) {
    const peak = parting?.peakTonnes[side] ?? null
    if (!isTaken(peak))
      list.push(notTaken(`peak-tonnage-${side}`, { name: `The peak of the gauge when the ${side} web let go`, figure: peak }))
  }
  if ((parting?.look ?? null) === null) {
    list.push(missing('look-at-bores', 'Nobody has looked at the bores yet for galling and cracks.'))
  }
  list.push(...crackFound(facts))
  if ((parting?.webMarks ?? '').trim() === '') {
    list.push(missing('web-marks', 'The webs are not marked left and right.'))
  }
  return list
}

/** A crack stops the job at every gate from apart on, however late it is found. */
export function crackFound(facts: JobFacts): Missing[] {
  if (facts.parting?.look?.crack !== true) return []
  return [missing('crack', 'There is a crack in a web. Another half, or scrap it: nobody can let this pass.', facts.parting.at)]
}
