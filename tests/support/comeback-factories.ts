/** Cranks that went home, and what is heard of them since. */
import type { Comeback } from '#contract/comebacks.ts'
import type { Booking, Job } from '#contract/jobs.ts'
import type { Agent, TestApp } from './app.ts'
import { type Hands, secondReading, step, truedRebuild } from './bench-factories.ts'
import { bookJob } from './factories.ts'

/** A rebuild that went the whole way through the shop and home, with its sheet. */
export async function goneRebuild(h: Hands): Promise<Job> {
  const job = await truedRebuild(h)
  await secondReading(h, job)
  h.it.clock.pass(1)
  await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
  await h.counter.put(`/api/jobs/${job.id}/box`, { items: [] }, 0).expect(200)
  await h.counter.post(`/api/jobs/${job.id}/payments`, { amountMinor: 26_800, what: 'payment', how: 'card' }).expect(201)
  return step(h, h.counter, job, 'gone')
}

/** A crank that was booked in and is out running since a day, with a kit of this lot where one is named. */
export async function goneJob(
  it: TestApp,
  goneOn: string,
  more: Partial<Booking> & { engineId?: string; lot?: string; by?: Agent } = {},
): Promise<Job> {
  const { lot, by, ...booking } = more
  const job = await bookJob(it, booking)
  if (lot !== undefined && by !== undefined)
    await by.post(`/api/jobs/${job.id}/kit`, { maker: 'Ardenlow', part: 'K-1', lot, whose: 'ours' }).expect(201)
  await sendHome(it, job, goneOn)
  return job
}

/** Says of a job that it went home on a day, at noon. */
export async function sendHome(it: TestApp, job: { id: string }, goneOn: string): Promise<void> {
  await it.db.pool.query("UPDATE job SET state = 'gone', gone_at = $2 WHERE id = $1", [job.id, `${goneOn}T12:00:00Z`])
}

export const TOLD = { day: '2026-11-24', how: 'told', hours: 41, hoursHow: 'metered', says: 'knocks when warm' } as const

export async function reportTold(by: Agent, job: { id: string }, more: object = {}): Promise<Comeback> {
  return (await by.post(`/api/jobs/${job.id}/comeback`, { ...TOLD, ...more }).expect(201)).body as Comeback
}
