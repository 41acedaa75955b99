import { readEngine } from '#server/features/engines/store.ts'
import { listInstruments } from '#server/features/instruments/store.ts'
import { readerOf, readJob } from '#server/features/job-page/store.ts'
import { readBench } from '#server/features/measurements/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import { notFound } from '#server/plugins/errors.ts'
import { shopDay, shopTime } from '#server/plugins/shop-day.ts'
import type { Gathered } from './collect.ts'

type FromTheBook = Pick<Gathered, 'job' | 'bench' | 'engine' | 'settings' | 'instruments' | 'inShop'>

/** Everything the book holds that a sheet of this job may need, as this person may see it. */
export async function givenFor(db: Tx | Db['prisma'], jobId: string, viewerId: string, now: Date): Promise<FromTheBook> {
  const reader = await readerOf(db, 'owner', now)
  const job = await readJob(db, jobId, reader)
  if (!job) throw notFound('This job')
  const engine = await readEngine(db, job.crank.engineId)
  if (!engine) throw notFound('The sheet of this engine')
  return {
    job,
    engine,
    bench: await readBench(db, jobId, viewerId),
    settings: await readSettings(db),
    instruments: await listInstruments(db, reader.today),
    inShop: (instant) => ({ day: shopDay(new Date(instant), reader.zone), time: shopTime(new Date(instant), reader.zone) }),
  }
}
