import type { z } from 'zod'
import type { ClockEntry, clockCorrection, clockStart, clockStop } from '#contract/hours.ts'
import { benchStretches, decideCorrection, type Stamp } from '#core/bench-clock.ts'
import { doneWord, isEnd, type Step } from '#core/steps.ts'
import { momentOf } from '#server/features/events/store.ts'
import { lockJob } from '#server/features/jobs/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { doneAt } from '#server/plugins/moments.ts'
import { closingsOf } from './closing.ts'
import * as store from './store.ts'

/** The step that each kind of work goes towards. */
const TOWARDS: Readonly<Record<ClockEntry['work'], Step>> = {
  measuring: 'measured',
  parting: 'apart',
  pressing: 'together',
  truing: 'trued',
  welding: 'trued',
  checking: 'signed',
}

export function stampOf(row: store.ClockRow): Stamp {
  return {
    id: row.id,
    personId: row.personId,
    jobId: row.jobId,
    step: TOWARDS[row.work],
    startedAt: row.startedAt.toISOString(),
    stoppedAt: row.stoppedAt === null ? null : row.stoppedAt.toISOString(),
    correction: null,
  }
}

/** When the day of a running clock ended before this moment: that moment of its end; null while the day goes on. */
export function dayEndOf(row: store.ClockRow, at: Date, shop: { zone: string; closingTime: string }): Date | null {
  const closings = closingsOf(row.startedAt, shop)
  const [stretch] = benchStretches([stampOf(row)], { now: at.toISOString(), closings })
  return stretch?.ended === 'stopped-at-closing' ? new Date(stretch.until) : null
}

/** Stops the clocks among these whose day is over, marked, so that their persons are asked; whether there was one. */
export async function stopAtClosing(act: Act, running: readonly store.ClockRow[], at: Date = act.now): Promise<boolean> {
  const settings = await readSettings(act.tx)
  let isOver = false
  for (const row of running) {
    const end = dayEndOf(row, at, settings)
    if (end !== null) isOver = true
    const stopped = end && (await store.stopClock(act, row.id, { at: end, how: 'closing-time' }))
    if (stopped) act.note('stop clock at closing time', 'clock_entry', row.id, { after: store.asEntry(stopped) })
  }
  return isOver
}

/** Starts a clock; the one that runs stops with it, because a person has two hands and one clock. */
export async function startClock(act: Act, wanted: z.infer<typeof clockStart>): Promise<ClockEntry> {
  const { jobId, work, id } = wanted
  const job = await lockJob(act.tx, jobId)
  if (!job) throw fieldFault('/jobId', 'unknown', 'This job is not in the book.')
  if (job.state === 'gone' || isEnd(job.state))
    throw new Problem('conflict-state', `${job.tag} is ${doneWord(job.state)}: nobody works on it any more.`)
  await store.lockClocksOf(act.tx, act.by.id)
  const asked = momentAtMostNow(act, wanted.occurredAt)
  const running = await closedUpTo(act, await store.runningOf(act.tx, act.by.id), asked)
  // A start that reaches the book late cannot lie before the clock that it ends, or over one that has stopped.
  const startedAt = latest(asked, running?.startedAt ?? (await store.lastStopOf(act.tx, act.by.id)))
  if (running !== null) {
    const stopped = await store.stopClock(act, running.id, { at: startedAt, how: 'next-clock' })
    act.note('stop clock', 'clock_entry', running.id, { after: stopped && store.asEntry(stopped) })
  }
  const entry = store.asEntry(await store.startClock(act, { id, jobId, work, startedAt }))
  act.note('start clock', 'clock_entry', entry.id, { after: entry })
  return entry
}

/** Stops the clock that runs. */
export async function stopClock(act: Act, wanted: z.infer<typeof clockStop>): Promise<ClockEntry> {
  await store.lockClocksOf(act.tx, act.by.id)
  const asked = momentAtMostNow(act, wanted.occurredAt)
  const before = await store.runningOf(act.tx, act.by.id)
  if (before === null) throw new Problem('conflict-state', 'No clock of yours is running.')
  const running = await closedUpTo(act, before, asked)
  if (running === null)
    throw new Problem('conflict-state', 'Your clock stopped at closing time. Put it right if that is not when you stopped.')
  const stopped = await store.stopClock(act, running.id, { at: latest(asked, running.startedAt), how: 'hand' })
  if (stopped === null) throw new Problem('conflict-state', 'No clock of yours is running.')
  const entry = store.asEntry(stopped)
  act.note('stop clock', 'clock_entry', entry.id, { after: entry })
  return entry
}

/** The clock that ran, unless its day has ended since: then it is stopped there, and none runs. */
async function closedUpTo(act: Act, running: store.ClockRow | null, at: Date): Promise<store.ClockRow | null> {
  if (running === null || !(await stopAtClosing(act, [running], at))) return running
  return store.runningOf(act.tx, act.by.id)
}

function momentAtMostNow(act: Act, occurredAt: string | undefined): Date {
  return new Date(doneAt({ occurredAt: momentOf(act, occurredAt), recordedAt: act.now }))
}

function latest(one: Date, other: Date | null): Date {
  return other !== null && other > one ? other : one
}

/** Puts an entry right, with a reason: one's own, or as the owner anybody's. What the clock said stays beside it. */
export async function correctHours(act: Act, id: string, wanted: z.infer<typeof clockCorrection>): Promise<ClockEntry> {
  const found = await store.readEntry(act.tx, id)
  if (!found) throw notFound('This entry')
  if (found.personId !== act.by.id && act.by.role !== 'owner') throw new Problem('forbidden', 'Only your own hours are yours to put right.')
  await store.lockClocksOf(act.tx, found.personId)
  const before = (await store.readEntry(act.tx, id))!
  mustStandAt(before.version, act.expectedVersion())
  const right = { startedAt: new Date(wanted.startedAt), stoppedAt: new Date(wanted.stoppedAt), why: wanted.why }
  const others = await store.entriesAround(act.tx, before, right.startedAt, right.stoppedAt)
  const decision = decideCorrection(
    { startedAt: right.startedAt.toISOString(), stoppedAt: right.stoppedAt.toISOString(), by: act.by.id, reason: wanted.why },
    { now: act.now.toISOString(), others: benchStretches(others.map(stampOf), { now: act.now.toISOString(), closings: [] }) },
  )
  if (!decision.ok) throw fieldFault(decision.reason === 'needs-a-reason' ? '/why' : '/stoppedAt', decision.reason, decision.detail)
  const after = store.asEntry(await store.correctEntry(act, before, right))
  act.note('correct hours', 'clock_entry', id, { before: store.asEntry(before), after, reason: wanted.why })
  return after
}
