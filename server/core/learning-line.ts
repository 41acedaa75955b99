import { millisecondsOf } from '#core/instants.ts'
import type { JobKind } from '#core/steps.ts'

/** A job that this person called true, with the bench hours on it from booked to trued, after corrections. */
export interface LearningJob {
  jobId: string
  kind: JobKind
  /** A crank to practise on, nobody's. */
  isPractice: boolean
  /** One of ours that came back and is put right. */
  isComeback: boolean
  /** null while it has not reached signed. */
  signedAt: string | null
  ownHours: number
  /** Of everybody else together. */
  othersHours: number
}

export const HOLLOW_REASONS = ['other-kind', 'practice', 'comeback', 'others-over-a-fifth'] as const
export type HollowReason = (typeof HOLLOW_REASONS)[number]

export interface LearningPoint {
  jobId: string
  /** Its number in the person's own count; absent where it does not count (another kind, practice). */
  n?: number
  /** Where it stands on the line: its own number, or the count reached by then, at least 1. */
  drawAt: number
  hours: number
  /** Drawn hollow and not fitted, and why. */
  hollow?: HollowReason
}

export interface LearningLine {
  /** In order of signing. */
  points: LearningPoint[]
  /** What the learning sum is given. */
  fitted: { n: number; hours: number }[]
  leftOut: { notSigned: number; noHours: number }
  hollow: Record<HollowReason, number>
  /** The counting rule in words, for beside the drawing. */
  caption: string
  /** Whether a rate for each doubling, and a crossing of the target, may be printed. */
  mayFitRate: boolean
  /** Why not, in words; null where it may. */
  noRateBecause: string | null
}

/** The last crank fitted has to be at least this many times the first. */
export const LEAST_SPAN = 4
/** Fewer points have no line. */
export const LEAST_POINTS = 3
const OTHERS_SHARE_MOST = 1 / 5
/** Hours are differences of instants in milliseconds; a share may miss a fifth by the last bit and is a fifth then. */
const BINARY_DUST = 1e-9

/**
 * Which jobs make the line of one person. Crank n is the person's n-th rebuild to reach signed, among those that the
 * person called true, counted on from the number declared at joining. Its hours are all bench hours on that job from
 * booked to trued, whoever clocked them. Another kind of job and practice have no number; they, comebacks put right, and
 * cranks on which others clocked over a fifth are drawn hollow and not fitted. Jobs without hours cannot be drawn.
 * Where the last number is less than 4 times the first, a rate for each doubling would be a guess, and none may be printed:
 * say the level instead.
 *
 * Refuses (RangeError) a declared number that is not whole or below 0, and hours below 0 or not a number.
 * Source: how the shop counts, decided once; the least span: two doublings, common practice, no source.
 *
 * @example learningLine([], { declaredBefore: 0 }).caption // 'No cranks yet.'
 */
export function learningLine(jobs: readonly LearningJob[], joined: { declaredBefore: number }): LearningLine {
  requireCounts(jobs, joined.declaredBefore)
  const signed = jobs
    .flatMap((job) => (job.signedAt === null ? [] : [{ job, signedAt: millisecondsOf(job.signedAt) }]))
    .sort((one, other) => one.signedAt - other.signedAt || (one.job.jobId < other.job.jobId ? -1 : 1))
  const points: LearningPoint[] = []
  let count = joined.declaredBefore
  let noHours = 0
  for (const { job } of signed) {
    const counts = job.kind === 'rebuild' && !job.isPractice
    if (counts) count += 1
    if (job.ownHours + job.othersHours <= 0) noHours += 1
    else points.push(pointOf(job, counts ? count : null, count))
  }
  const fitted = points.flatMap(({ n, hours, hollow }) => (n === undefined || hollow !== undefined ? [] : [{ n, hours }]))
  const leftOut = { notSigned: jobs.length - signed.length, noHours }
  const hollow = countHollow(points)
  const noRateBecause = whyNoRate(fitted)
  const caption = captionOf({ fitted: fitted.length, leftOut, hollow, declaredBefore: joined.declaredBefore })
  return { points, fitted, leftOut, hollow, caption, mayFitRate: noRateBecause === null, noRateBecause }
}

function pointOf(job: LearningJob, n: number | null, reached: number): LearningPoint {
  const hollow = hollowReason(job)
  return {
    jobId: job.jobId,
    ...(n === null ? {} : { n }),
    drawAt: Math.max(1, reached),
    hours: job.ownHours + job.othersHours,
    ...(hollow === null ? {} : { hollow }),
  }
}

function hollowReason(job: LearningJob): HollowReason | null {
  if (job.isPractice) return 'practice'
  if (job.kind !== 'rebuild') return 'other-kind'
  if (job.isComeback) return 'comeback'
  const share = job.othersHours / (job.ownHours + job.othersHours)
  return share - OTHERS_SHARE_MOST > BINARY_DUST ? 'others-over-a-fifth' : null
}

function countHollow(points: readonly LearningPoint[]): Record<HollowReason, number> {
  const counts = { 'other-kind': 0, practice: 0, comeback: 0, 'others-over-a-fifth': 0 }
  for (const { hollow } of points) if (hollow !== undefined) counts[hollow] += 1
  return counts
}

function whyNoRate(fitted: readonly { n: number }[]): string | null {
  const first = fitted[0]?.n ?? 0
  const last = fitted[fitted.length - 1]?.n ?? 0
  if (fitted.length < LEAST_POINTS) return `No rate: ${cranks(fitted.length)} fitted, and a line needs ${LEAST_POINTS}.`
  if (last >= LEAST_SPAN * first) return null
  return `No rate: crank ${last} is less than ${LEAST_SPAN} times crank ${first}, too short a way to see a doubling. The level is shown.`
}

const HOLLOW_WORDS: Readonly<Record<HollowReason, string>> = {
  'other-kind': 'not a rebuild',
  practice: 'for practice',
  comeback: 'comeback put right',
  'others-over-a-fifth': 'with over a fifth of the hours by others',
}

function captionOf(counts: {
  fitted: number
  leftOut: LearningLine['leftOut']
  hollow: Record<HollowReason, number>
  declaredBefore: number
}): string {
  const { fitted, leftOut, hollow, declaredBefore } = counts
  const hollowParts = HOLLOW_REASONS.filter((reason) => hollow[reason] > 0).map((reason) => `${hollow[reason]} ${HOLLOW_WORDS[reason]}`)
  const outParts = [
    ...(leftOut.notSigned > 0 ? [`${leftOut.notSigned} not signed yet`] : []),
    ...(leftOut.noHours > 0 ? [`${leftOut.noHours} without hours`] : []),
  ]
  if (fitted === 0 && hollowParts.length === 0 && outParts.length === 0) return 'No cranks yet.'
  return [
    `${cranks(fitted)} fitted, ${outParts.length === 0 ? 'none left out' : `left out: ${outParts.join(', ')}`}.`,
    ...(hollowParts.length === 0 ? [] : [`Drawn hollow and not fitted: ${hollowParts.join(', ')}.`]),
    ...(declaredBefore === 0 ? [] : [`Counted on from ${declaredBefore} declared at joining.`]),
    'Hours are all bench hours on a crank from booked to true, after corrections.',
  ].join(' ')
}

function cranks(count: number): string {
  return count === 1 ? '1 crank' : `${count} cranks`
}

function requireCounts(jobs: readonly LearningJob[], declaredBefore: number): void {
  if (!Number.isInteger(declaredBefore) || declaredBefore < 0) throw new RangeError('learningLine needs a declared number of 0 or more')
  for (const { ownHours, othersHours } of jobs) {
    for (const hours of [ownHours, othersHours]) {
      if (!(Number.isFinite(hours) && hours >= 0)) throw new RangeError('learningLine needs hours of 0 or more')
    }
  }
}
