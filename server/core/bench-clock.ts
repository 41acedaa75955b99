import { isLater, latestOf, millisecondsOf } from '#core/instants.ts'
import type { Step } from '#core/steps.ts'

/** What somebody put right on a stamp; it stands in place of what the clock said. */
export interface StampCorrection {
  startedAt: string
  stoppedAt: string
  by: string
  reason: string
}

/** One press of start, and of stop where there was one, as the book keeps it. Instants RFC 3339 in UTC. */
export interface Stamp {
  id: string
  personId: string
  jobId: string
  /** The step that was worked towards. */
  step: Step
  startedAt: string
  /** null while it runs. */
  stoppedAt: string | null
  correction: StampCorrection | null
}

/**
 * running: still going. stopped: by hand, or by the start of the person's next clock. stopped-at-closing: it ran past
 * closing time and counts to there; its person is asked next morning. corrected: as put right.
 */
export type StretchEnd = 'running' | 'stopped' | 'stopped-at-closing' | 'corrected'

/** A stretch of work that counts. */
export interface Stretch {
  stampId: string
  personId: string
  jobId: string
  step: Step
  from: string
  until: string
  ended: StretchEnd
}

/**
 * The stretches that count, from the stamps of one or more persons. A person has one running clock: a later start stops
 * the earlier. A clock that runs past a closing time stops there. A correction overrides both.
 *
 * now: up to when a running clock counts. closings: the closing times as instants, worked out from the hours and the zone
 * of the shop by the caller; nights when the clocks change are therefore nothing special. For the rule of one clock, give
 * all stamps of a person, not only those of one job. Answers in order of start.
 *
 * A clock that starts after now, by a tablet that runs ahead, counts for nothing yet. Refuses (RangeError) a stamp that
 * stops before it starts.
 * Source: common practice, no source.
 *
 * @example benchStretches([{ id: 'a', personId: 'ann', jobId: '318', step: 'apart', startedAt: '2026-11-24T16:50:00Z', stoppedAt: null, correction: null }], { now: '2026-11-25T07:40:00Z', closings: ['2026-11-24T17:00:00Z'] })[0].ended // 'stopped-at-closing'
 */
export function benchStretches(stamps: readonly Stamp[], day: { now: string; closings: readonly string[] }): Stretch[] {
  const closings = [...day.closings].sort(byInstant)
  const latestFirst = [...stamps].sort((one, other) => byInstant(startOf(other), startOf(one)) || (one.id < other.id ? 1 : -1))
  const nextStartOf = new Map<string, string>()
  const stretches = latestFirst.map((stamp) => {
    const stretch = stretchOf(stamp, { now: day.now, closings, nextStart: nextStartOf.get(stamp.personId) ?? null })
    nextStartOf.set(stamp.personId, stretch.from)
    return stretch
  })
  return stretches.reverse()
}

function stretchOf(stamp: Stamp, day: { now: string; closings: readonly string[]; nextStart: string | null }): Stretch {
  const { id: stampId, personId, jobId, step, correction } = stamp
  if (correction !== null) {
    requireOrder(correction.startedAt, correction.stoppedAt)
    return { stampId, personId, jobId, step, from: correction.startedAt, until: correction.stoppedAt, ended: 'corrected' }
  }
  const { startedAt } = stamp
  if (stamp.stoppedAt !== null) requireOrder(startedAt, stamp.stoppedAt)
  let until = stamp.stoppedAt ?? latestOf([startedAt, day.now]) ?? day.now
  let ended: StretchEnd = stamp.stoppedAt === null ? 'running' : 'stopped'
  if (day.nextStart !== null && isLater(until, day.nextStart)) {
    until = day.nextStart
    ended = 'stopped'
  }
  const closing = day.closings.find((one) => isLater(one, startedAt))
  if (closing !== undefined && isLater(until, closing)) {
    until = closing
    ended = 'stopped-at-closing'
  }
  return { stampId, personId, jobId, step, from: startedAt, until, ended }
}

/** Hours of one job, split the ways the shop looks at them. Decimal hours, unrounded. */
export interface JobHours {
  hours: number
  byStep: Partial<Record<Step, number>>
  byPerson: Record<string, number>
  /** How many of its stretches were put right, and how many stopped at closing and nobody has been asked yet. */
  corrected: number
  stoppedAtClosing: number
  isRunning: boolean
}

/**
 * The bench hours of one job, between two instants where they are given (null: from the first, or to the last): from
 * booked to trued they are the hours of the learning line.
 *
 * Source: common practice, no source.
 *
 * @example jobHours([{ stampId: 'a', personId: 'ann', jobId: '318', step: 'apart', from: '2026-11-24T08:00:00Z', until: '2026-11-24T08:45:00Z', ended: 'stopped' }], { jobId: '318', from: null, until: '2026-11-24T12:00:00Z' }).hours // 0.75
 */
export function jobHours(stretches: readonly Stretch[], asked: { jobId: string; from: string | null; until: string | null }): JobHours {
  const total: JobHours = { hours: 0, byStep: {}, byPerson: {}, corrected: 0, stoppedAtClosing: 0, isRunning: false }
  for (const stretch of stretches) {
    if (stretch.jobId !== asked.jobId) continue
    const from = latestOf([stretch.from, asked.from]) ?? stretch.from
    const until = asked.until !== null && isLater(stretch.until, asked.until) ? asked.until : stretch.until
    if (isLater(from, until)) continue
    const hours = (millisecondsOf(until) - millisecondsOf(from)) / 3_600_000
    total.hours += hours
    total.byStep[stretch.step] = (total.byStep[stretch.step] ?? 0) + hours
    total.byPerson[stretch.personId] = (total.byPerson[stretch.personId] ?? 0) + hours
    total.corrected += stretch.ended === 'corrected' ? 1 : 0
    total.stoppedAtClosing += stretch.ended === 'stopped-at-closing' ? 1 : 0
    total.isRunning ||= stretch.ended === 'running'
  }
  return total
}

export type CorrectionDecision =
  | { ok: true }
  | { ok: false; reason: 'needs-a-reason' | 'ends-before-it-starts' | 'in-the-future' | 'overlaps'; detail: string }

/**
 * Whether a stamp may be put right so: with a reason, ending after it starts and not after now, and not over other work of
 * the same person (others: the stretches of that person, this stamp's own left out).
 *
 * Source: common practice, no source.
 *
 * @example decideCorrection({ startedAt: '2026-11-24T08:00:00Z', stoppedAt: '2026-11-24T09:00:00Z', by: 'ewa', reason: 'forgot to stop' }, { now: '2026-11-25T07:40:00Z', others: [] }).ok // true
 */
export function decideCorrection(correction: StampCorrection, day: { now: string; others: readonly Stretch[] }): CorrectionDecision {
  const { startedAt, stoppedAt, reason } = correction
  if (reason.trim() === '') return { ok: false, reason: 'needs-a-reason', detail: 'Say why the hours are put right.' }
  if (!isLater(stoppedAt, startedAt)) return { ok: false, reason: 'ends-before-it-starts', detail: 'It has to stop after it starts.' }
  if (isLater(stoppedAt, day.now)) return { ok: false, reason: 'in-the-future', detail: 'It cannot stop later than now.' }
  const other = day.others.find((stretch) => isLater(stoppedAt, stretch.from) && isLater(stretch.until, startedAt))
  if (other === undefined) return { ok: true }
  return { ok: false, reason: 'overlaps', detail: `The same person was on another clock from ${other.from} to ${other.until}.` }
}

function startOf(stamp: Stamp): string {
  return stamp.correction?.startedAt ?? stamp.startedAt
}

function byInstant(one: string, other: string): number {
  return millisecondsOf(one) - millisecondsOf(other)
}

function requireOrder(startedAt: string, stoppedAt: string): void {
  if (isLater(startedAt, stoppedAt)) throw new RangeError('benchStretches needs stamps that stop after they start')
}
