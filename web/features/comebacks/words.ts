import type { ComebackRow, SinceHome } from '#contract/comebacks.ts'
import { CAUSE_WORDS, SHARE_WORDS } from '#core/comeback.ts'
import { FINDING_WORDS } from '#core/comeback-findings.ts'
import { counted, day } from '#web/lib/format.ts'

export const HOW_KNOWN = { metered: 'off a meter', declared: 'declared', unknown: 'unknown' } as const
export const CAME_WORDS = { returned: 'it is here again', told: 'they told us' } as const

/** `41 h off a meter`, `3 h as they say`, `hours not known`. */
export function riddenWords({ hours, hoursHow }: { hours?: number | undefined; hoursHow: keyof typeof HOW_KNOWN }): string {
  if (hours === undefined) return 'hours not known'
  return hoursHow === 'metered' ? `${hours} h off a meter` : `${hours} h as they say`
}

export function foundWords({ found, foundNote }: Pick<ComebackRow, 'found' | 'foundNote'>): string {
  return [...found.map((one) => FINDING_WORDS[one].says), ...(foundNote === undefined ? [] : [foundNote])].join('; ')
}

/** `oil, fuel or dirt; it is theirs`; undefined while it is open. */
export function decidedWords({ cause, share }: Pick<ComebackRow, 'cause' | 'share'>): string | undefined {
  return cause === undefined || share === undefined ? undefined : `${CAUSE_WORDS[cause]}; it is ${SHARE_WORDS[share].says}`
}

/** `Tue 24 Nov, 267 days after it went home; told, 41 h off a meter`. */
export function cameWords(report: Pick<ComebackRow, 'day' | 'how' | 'daysSince' | 'hours' | 'hoursHow'>, today: string): string {
  const after = report.daysSince === undefined ? '' : `, ${counted(report.daysSince, 'day')} after it went home`
  return `${day(report.day, today)}${after}; ${report.how}, ${riddenWords(report)}`
}

export function callWords(call: SinceHome['calls'][number], today: string): string {
  const said = call.says === undefined ? '' : `: “${call.says}”`
  return `${day(call.day, today)}, ${call.runs ? 'it runs well' : 'it does not run well'}; ${riddenWords(call)}${said}`
}
