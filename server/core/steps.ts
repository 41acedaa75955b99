/**
 * The steps of a job. A step says what is done; beside it stands what the hand does next. Everything that names a step
 * (wire, screens, paper, the table of gates) takes the names and the words from here.
 * Source: common practice of the trade, no source.
 */

export const JOB_KINDS = ['rebuild', 'true-only', 'check-and-report', 'weld-only'] as const
export type JobKind = (typeof JOB_KINDS)[number]

export const STEPS = ['booked', 'measured', 'agreed', 'apart', 'together', 'trued', 'signed', 'gone'] as const
export type Step = (typeof STEPS)[number]

/** How a job closes other than by going home done. */
export const ENDS = ['given-back', 'scrapped'] as const
export type End = (typeof ENDS)[number]

/** Where a job stands: at a step of its path, or at one of the two other ends. */
export type JobState = Step | End

/** What a job can wait for, beside its step; the list is empty when it waits for nothing. */
export const WAITING_FOR = ['kit', 'yes', 'outside'] as const
export type WaitingFor = (typeof WAITING_FOR)[number]

/** Why a crank comes in now. A knock asks for big-end play before anything is promised. */
export const WHY_NOW = ['hours-up', 'knock', 'seized', 'rust', 'out-of-true', 'rod-broken', 'dropped', 'not-known'] as const
export type WhyNow = (typeof WHY_NOW)[number]

/** The steps that each kind of job walks, in order. Welding is an event between two steps and none of its own. */
export const PATHS: Readonly<Record<JobKind, readonly Step[]>> = {
  rebuild: STEPS,
  'true-only': ['booked', 'measured', 'agreed', 'trued', 'signed', 'gone'],
  'weld-only': ['booked', 'measured', 'agreed', 'trued', 'signed', 'gone'],
  'check-and-report': ['booked', 'measured', 'signed', 'gone'],
}

/** done: said once the step is reached. act: said while the step is the next one. */
const WORDS: Readonly<Record<Step, { done: string; act: string }>> = {
  booked: { done: 'booked', act: 'to book in' },
  measured: { done: 'measured', act: 'to measure' },
  agreed: { done: 'agreed', act: 'to agree' },
  apart: { done: 'apart', act: 'to part' },
  together: { done: 'together', act: 'to press together' },
  trued: { done: 'true', act: 'to true' },
  signed: { done: 'signed', act: 'second check' },
  gone: { done: 'gone', act: 'ready to go home' },
}

const AFTER_GONE = 'out running'
const WELD_THEN_TRUE = 'to weld and true'

/** Whether a job stands at an end, from which no step follows. @example isEnd('scrapped') // true */
export function isEnd(state: JobState): state is End {
  return ENDS.some((end) => end === state)
}

/** Where a step stands on the path of a kind of job, counted from 0. Refuses (RangeError) a step that is not on that path. */
export function placeOnPath(kind: JobKind, step: Step): number {
  const place = PATHS[kind].indexOf(step)
  if (place < 0) throw new RangeError(`placeOnPath needs a step on the path of ${kind}`)
  return place
}

/**
 * The step that follows on the path of this kind of job; null after gone, which nothing follows.
 * Refuses (RangeError) a step that this kind does not have.
 *
 * @example nextStep('true-only', 'agreed') // 'trued'
 */
export function nextStep(kind: JobKind, step: Step): Step | null {
  return PATHS[kind][placeOnPath(kind, step) + 1] ?? null
}

/**
 * The word for where a job stands. A crank that is trued is said to be "true".
 *
 * @example doneWord('trued') // 'true'
 */
export function doneWord(state: JobState): string {
  if (state === 'given-back') return 'given back'
  return state === 'scrapped' ? 'scrapped' : WORDS[state].done
}

/**
 * The word for what the hand does next on this kind of job; after gone the crank is out running.
 * A weld-only job is welded on the way to true, and its word says so.
 *
 * @example actWord('rebuild', 'apart') // 'to press together'
 */
export function actWord(kind: JobKind, step: Step): string {
  const next = nextStep(kind, step)
  if (next === null) return AFTER_GONE
  return kind === 'weld-only' && next === 'trued' ? WELD_THEN_TRUE : WORDS[next].act
}

/**
 * Done word and act word together, as a list says them; the two other ends have no act word.
 *
 * @example stateWords('rebuild', 'apart') // 'apart · to press together'
 */
export function stateWords(kind: JobKind, state: JobState): string {
  return isEnd(state) ? doneWord(state) : `${doneWord(state)} · ${actWord(kind, state)}`
}
