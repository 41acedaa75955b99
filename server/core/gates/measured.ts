import type { JobFacts } from '#core/gates/facts.ts'
import { isTaken, type Missing, missing, notTaken, placesLeft } from '#core/gates/missing.ts'
import { SIDES } from '#core/runout-verdict.ts'

/** Measured: width at four places and both ends as it came in; for a knock, big-end play. Without it nothing can be proved later. */
export function missingForMeasured(facts: JobFacts): Missing[] {
  const { width, runout, bigEndPlay } = facts.received
  const list: Missing[] = []
  if (!isTaken(width)) list.push(notTaken('width-as-received', { name: 'The width as received', figure: width }))
  else if (placesLeft(width.value).length > 0) {
    const places = placesLeft(width.value).join(', ')
    list.push(missing('width-as-received', `The width as received is not read at ${places}°.`, width.takenAt))
  }
  for (const side of SIDES) {
    if (!isTaken(runout[side]))
      list.push(notTaken(`runout-${side}-as-received`, { name: `The ${side} end as received`, figure: runout[side] }))
  }
  if (facts.whyNow === 'knock' && !isTaken(bigEndPlay)) {
    list.push(notTaken('big-end-play', { name: 'It came for a knock: big-end play', figure: bigEndPlay }))
  }
  return list
}
