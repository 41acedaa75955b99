import type { Joint } from '#core/crank-build.ts'
import type { JobFacts } from '#core/gates/facts.ts'
import type { Missing, MissingCode } from '#core/gates/missing.ts'
import { missingFor } from '#core/gates.ts'
import { isLater } from '#core/instants.ts'
import { doneWord, type End, isEnd, type JobKind, type JobState, nextStep, PATHS, placeOnPath, type Step } from '#core/steps.ts'

/** The word of the owner that one thing may be missing. Who may give it is the caller's to see to. */
export interface Pass {
  code: MissingCode
  /** At which joint of a crank with several throws. */
  joint?: Joint | undefined
  reason: string
  at: string
}

export type MoveDecision =
  /** passed: what the owner let pass, to be printed on the certificate. */
  | { ok: true; passed: Missing[] }
  | { ok: false; reason: 'not-on-the-path'; detail: string }
  /** missing: what is still in the way, whatever has a pass left out. */
  | { ok: false; reason: 'gate-not-met'; detail: string; missing: Missing[] }

/** The last step from which a job may still close without going home done: scrapped before it is signed, given back before it is gone. */
const LAST_STEP_BEFORE: Readonly<Record<End, Step>> = { scrapped: 'trued', 'given-back': 'signed' }

/**
 * Whether a job may be called its next step (or given back, or scrapped). Only the one step that follows on its path is
 * open, and only with nothing missing but what the owner let pass. A pass counts for its own code at its own joint, with a reason, if it
 * may be given at all, and only if it is not older than the figure that it excuses. The caller hands over every pass given
 * since the last step back, whichever gate it was for: signing asks again what truing asked.
 *
 * Refuses (RangeError) a step, as the place where the job stands, that its kind does not have, and facts that missingFor
 * refuses. Source: common practice, no source.
 *
 * @example decideMove({ from: 'booked', to: 'apart', facts, passes: [] }).ok // false
 */
export function decideMove(move: { from: JobState; to: JobState; facts: JobFacts; passes: readonly Pass[] }): MoveDecision {
  const { from, to, facts, passes } = move
  if (isEnd(from)) return offThePath(`It is ${doneWord(from)}: nothing follows.`)
  if (isEnd(to)) return decideEnd(facts.kind, from, to)
  const next = nextStep(facts.kind, from)
  if (to !== next) {
    const open = next === null ? 'nothing follows' : `next comes ${doneWord(next)}`
    return offThePath(`It is ${doneWord(from)}: ${open}, not ${doneWord(to)}.`)
  }
  const list = missingFor(to, facts)
  const passed = list.filter((one) => isLetPass(one, passes))
  const missing = list.filter((one) => !isLetPass(one, passes))
  if (missing.length === 0) return { ok: true, passed }
  return { ok: false, reason: 'gate-not-met', detail: `Not ${doneWord(to)} yet: ${missing.length} missing.`, missing }
}

function decideEnd(kind: JobKind, from: Step, to: End): MoveDecision {
  const place = placeOnPath(kind, from)
  const last = PATHS[kind].filter((step) => isAtOrBefore(step, LAST_STEP_BEFORE[to])).length - 1
  return place <= last ? { ok: true, passed: [] } : offThePath(`It is ${doneWord(from)} and can no longer be ${doneWord(to)}.`)
}

function isAtOrBefore(step: Step, last: Step): boolean {
  return PATHS.rebuild.indexOf(step) <= PATHS.rebuild.indexOf(last)
}

function isLetPass(one: Missing, passes: readonly Pass[]): boolean {
  if (one.pass === 'never') return false
  return passes.some((pass) => {
    const isForThis = pass.code === one.code && pass.joint === one.joint && pass.reason.trim() !== ''
    return isForThis && (one.since === null || !isLater(one.since, pass.at))
  })
}

function offThePath(detail: string): MoveDecision & { reason: 'not-on-the-path' } {
  return { ok: false, reason: 'not-on-the-path', detail }
}

export type StepBackDecision = { ok: true } | { ok: false; reason: 'not-on-the-path' | 'needs-a-reason'; detail: string }

/**
 * Whether a job may go back to an earlier step of its path; this is a new line in the book and never an edit, and it needs
 * a reason. A job that was given back or scrapped by mistake comes back to where it stood (endedFrom) or earlier.
 *
 * Source: common practice, no source.
 *
 * @example stepBack({ kind: 'rebuild', from: 'trued', to: 'together', reason: 'right web let go', endedFrom: null }).ok // true
 */
export function stepBack(move: { kind: JobKind; from: JobState; to: Step; reason: string; endedFrom: Step | null }): StepBackDecision {
  const { kind, from, to, reason, endedFrom } = move
  const path = PATHS[kind]
  const last = isEnd(from) ? (endedFrom === null ? -1 : path.indexOf(endedFrom)) : path.indexOf(from) - 1
  const place = path.indexOf(to)
  if (place < 0 || place > last) {
    return { ok: false, reason: 'not-on-the-path', detail: `From ${doneWord(from)} it cannot go back to ${doneWord(to)}.` }
  }
  if (reason.trim() === '') return { ok: false, reason: 'needs-a-reason', detail: 'Say why it goes back.' }
  return { ok: true }
}

/**
 * Where a job stands after its pin was welded: heat moves the joint, so a crank that was true or signed is not so any more
 * until it is read again cold. Before that, and once gone, welding changes no step.
 *
 * Refuses (RangeError) a step that the kind does not have, and a check-and-report, which has no truing.
 * Source: common practice, no source.
 *
 * @example stepAfterWelding('rebuild', 'trued') // 'together'
 */
export function stepAfterWelding(kind: JobKind, step: Step): Step {
  const trued = placeOnPath(kind, 'trued')
  const place = placeOnPath(kind, step)
  return place < trued || step === 'gone' ? step : PATHS[kind][trued - 1]!
}
