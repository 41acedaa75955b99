import type { z } from 'zod'
import { type clockState, type jobHours, WORK } from '#contract/hours.ts'
import { benchStretches, jobHours as hoursOfJob } from '#core/bench-clock.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { type Caller, perform } from '#server/plugins/act.ts'
import type { Db } from '#server/plugins/database.ts'
import { dayEndOf, stampOf, stopAtClosing } from './commands.ts'
import * as store from './store.ts'

/** The clock of a person: what runs, and what closing time stopped since. A clock whose day is over is stopped first. */
export async function clockAnswer(db: Db, by: Caller, now: Date): Promise<z.infer<typeof clockState>> {
  const running = await store.runningOf(db.prisma, by.id)
  await closeThoseOver(db, by, now, running === null ? [] : [running])
  const still = await store.runningOf(db.prisma, by.id)
  const unanswered = await store.unansweredOf(db.prisma, by.id)
  return { running: still && store.asEntry(still), unanswered: unanswered.map(store.asEntry) }
}

/** All bench-clock time on a job, after corrections; a clock that runs counts up to now. */
export async function hoursAnswer(db: Db, by: Caller, now: Date, jobId: string): Promise<z.infer<typeof jobHours>> {
  await closeThoseOver(db, by, now, await store.runningOn(db.prisma, jobId))
  const entries = await store.entriesOfJob(db.prisma, jobId)
  const hoursOf = (rows: readonly store.ClockRow[]) => {
    const stretches = rows.flatMap((row) => benchStretches([stampOf(row)], { now: now.toISOString(), closings: [] }))
    return hoursOfJob(stretches, { jobId, from: null, until: null }).hours
  }
  const byWork = WORK.map((work) => ({ work, rows: entries.filter((row) => row.work === work) })).filter(({ rows }) => rows.length > 0)
  return {
    entries: entries.map(store.asEntry),
    totalHours: hoursOf(entries),
    byWork: byWork.map(({ work, rows }) => ({ work, hours: hoursOf(rows) })),
  }
}

/** A read that finds a clock running past its day stops it there, in an act of its own. */
async function closeThoseOver(db: Db, by: Caller, now: Date, running: readonly store.ClockRow[]): Promise<void> {
  const settings = await readSettings(db.prisma)
  const over = running.filter((row) => dayEndOf(row, now, settings) !== null)
  if (over.length > 0) await perform(db, { by, now }, (act) => stopAtClosing(act, over))
}
