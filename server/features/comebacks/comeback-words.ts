/** Sentences of the history about a crank that came back: for anybody in the shop, so without names of customers. */
import { CAUSE_WORDS, SHARE_WORDS } from '#core/comeback.ts'
import { FINDING_WORDS } from '#core/comeback-findings.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { type Ridden, riddenWords } from './report-rules.ts'
import type { ReportColumns } from './store.ts'

export function reportedWords(report: Ridden & { day: string; how: string }): string {
  const came = report.how === 'returned' ? 'It came back' : 'We were told that it failed'
  return `${came}, ${dayInWords(report.day)}; ${riddenWords(report)}.`
}

export function foundWords({ found, foundNote }: Pick<ReportColumns, 'found' | 'foundNote'>, byBuilder: boolean): string {
  const seen = [...found.map((one) => FINDING_WORDS[one].says), ...(foundNote === null ? [] : [foundNote])]
  if (seen.length === 0) return 'What was found on the comeback was taken away again.'
  return `Found on the comeback${byBuilder ? ', by the one who built it' : ''}: ${seen.join('; ')}.`
}

export function decidedWords({ cause, whose }: Pick<ReportColumns, 'cause' | 'whose'>): string {
  if (cause == null || whose == null) return 'The cause of the comeback is open again.'
  return `The comeback is decided: ${CAUSE_WORDS[cause]}; it is ${SHARE_WORDS[whose].says}.`
}

/** What else was corrected, by name; null where nothing was. */
export function changedWords(before: ReportColumns, after: ReportColumns): string | null {
  const said: string[] = []
  if (after.day !== before.day) said.push(`day ${dayInWords(after.day)}`)
  if (after.hours !== before.hours || after.hoursHow !== before.hoursHow) said.push(riddenWords(after))
  if (after.says !== before.says) said.push('what they say')
  if (after.thought !== before.thought) said.push('what is thought of it')
  return said.length === 0 ? null : `Changed on the comeback: ${said.join(', ')}.`
}
