import { shortDay } from '#core/short-day.ts'
import { actWord, doneWord, type JobKind, type Step, type WaitingFor } from '#core/steps.ts'

/** What the book knows of a job that is late. Days YYYY-MM-DD in the zone of the shop. */
export interface LateJob {
  kind: JobKind
  step: Step
  /** Day on which it came to that step. */
  stepOn: string
  waits: readonly { what: WaitingFor; note?: string | undefined; sinceOn: string; dueOn?: string | undefined }[]
  /** How often each web was pressed apart on this job. */
  pressedApart: { left: number; right: number }
  /** Steps back, each as the history says it, the oldest first. */
  stepsBack: readonly string[]
  /** What the owner let pass last; null where nothing. */
  lastPass: string | null
  holder: string | null
}

const WAIT_WORDS: Readonly<Record<WaitingFor, string>> = {
  kit: 'waiting for kit',
  yes: 'waiting for a yes',
  outside: 'waiting for somebody outside',
}

/**
 * What a job waits for, in words: what, since when, and when it is due.
 *
 * @example waitWords({ what: 'kit', note: 'pin on order', sinceOn: '2026-11-09', dueOn: '2026-11-26' }, '2026-11-24') // 'waiting for kit (pin on order), since Mon 9 Nov, due Thu 26 Nov'
 * @example waitWords({ what: 'yes', sinceOn: '2026-11-20', dueOn: '2026-11-23' }, '2026-11-24') // 'waiting for a yes, since Fri 20 Nov, was due Mon 23 Nov'
 */
export function waitWords(wait: LateJob['waits'][number], today: string): string {
  const { what, note, sinceOn, dueOn } = wait
  const due = dueOn === undefined ? '' : `, ${dueOn < today ? 'was due' : 'due'} ${shortDay(dueOn, today)}`
  return `${WAIT_WORDS[what]}${note === undefined ? '' : ` (${note})`}, since ${shortDay(sinceOn, today)}${due}`
}

/**
 * Why a job is late, as far as the book knows, in words, the weightiest first: what it waits for; a web that was pressed
 * apart twice or more; steps taken back; what was let pass last; and always where it stands, since when, and who has it.
 *
 * @example whyLate({ kind: 'rebuild', step: 'apart', stepOn: '2026-11-20', waits: [], pressedApart: { left: 1, right: 2 }, stepsBack: [], lastPass: null, holder: null }, '2026-11-24') // ['right web pressed apart twice', 'apart since Fri 20 Nov, to press together, nobody has it']
 *
 * Source: common practice, no source.
 */
export function whyLate(job: LateJob, today: string): string[] {
  const { kind, step, stepOn, waits, pressedApart, stepsBack, lastPass, holder } = job
  return [
    ...waits.map((wait) => waitWords(wait, today)),
    ...(['left', 'right'] as const)
      .filter((side) => pressedApart[side] > 1)
      .map((side) => `${side} web pressed apart ${times(pressedApart[side])}`),
    ...backWords(stepsBack),
    ...(lastPass === null ? [] : [`let pass: ${withoutStop(lastPass)}`]),
    `${doneWord(step)} since ${shortDay(stepOn, today)}, ${actWord(kind, step)}, ${holder === null ? 'nobody has it' : `${holder} has it`}`,
  ]
}

function backWords(stepsBack: readonly string[]): string[] {
  const last = stepsBack.at(-1)
  if (last === undefined) return []
  const words = withoutStop(last.charAt(0).toLowerCase() + last.slice(1))
  return [stepsBack.length === 1 ? words : `taken back ${times(stepsBack.length)}, last ${words}`]
}

function withoutStop(sentence: string): string {
  return sentence.replace(/\.$/, '')
}

/** How often, in words. Once has no word of its own here. */
function times(count: number): string {
  return count === 2 ? 'twice' : `${count} times`
}
