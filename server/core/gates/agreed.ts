import type { JobFacts } from '#core/gates/facts.ts'
import { type Missing, missing } from '#core/gates/missing.ts'

/** Agreed: a yes to the quote as it stands now, by somebody with a name, in a way that is written down. */
export function missingForAgreed(facts: JobFacts): Missing[] {
  const { quote } = facts
  if (quote === null) return [missing('quote', 'There is no quote yet to say yes to.')]
  const { yes, version } = quote
  if (yes === null) return [missing('yes', `Nobody has said yes to quote ${version} yet.`)]
  const list: Missing[] = []
  if (yes.version !== version) {
    list.push(missing('yes-to-the-present-quote', `The yes was to quote ${yes.version}. Quote ${version} stands now: ask again.`))
  }
  if (yes.by.trim() === '' || yes.how.trim() === '') {
    list.push(missing('yes-by-whom-and-how', 'The yes does not say by whom, and how it came.'))
  }
  return list
}
