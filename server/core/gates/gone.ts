import type { JobFacts } from '#core/gates/facts.ts'
import { type Missing, missing } from '#core/gates/missing.ts'

/** Gone: everything that came with it is back in the box, and it is paid or the owner has given his word. */
export function missingForGone(facts: JobFacts): Missing[] {
  const list: Missing[] = []
  if (!facts.boxListChecked) list.push(missing('box-list', 'The box has not been checked against what came in with the crank.'))
  if (!facts.paid && (facts.ownersWord ?? '').trim() === '') {
    list.push(missing('paid', 'It is not paid, and the owner has not given a word that it may go.'))
  }
  return list
}
