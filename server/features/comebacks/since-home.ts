import type { SinceHome } from '#contract/comebacks.ts'
import { isCallDue } from '#core/comeback-calls.ts'
import { callsOf, heardOf } from '#server/features/follow-ups/store.ts'
import type { Db } from '#server/plugins/database.ts'
import { notFound } from '#server/plugins/errors.ts'
import { type ReadBy, readJobToReport, readRow } from './store.ts'

/** What was heard of a crank since it went home, and the report for which it is here. */
export async function readSinceHome(db: Db['prisma'], jobId: string, by: ReadBy, today: string): Promise<SinceHome> {
  const job = await readJobToReport(db, jobId, by.zone)
  if (job === null) throw notFound('This job')
  const [report, hereFor, calls, heard] = await Promise.all([
    readRow(db, { jobId }, by),
    readRow(db, { newJobId: jobId }, by),
    callsOf(db, jobId),
    heardOf(db, jobId),
  ])
  const goneOn = job.state === 'gone' ? job.goneOn : null
  return {
    ...(goneOn === null ? {} : { goneOn }),
    ...(report === null ? {} : { report }),
    ...(hereFor === null ? {} : { hereFor }),
    calls,
    callDue: goneOn !== null && isCallDue({ goneOn, today, kind: job.kind, ...heard }),
    today,
  }
}
