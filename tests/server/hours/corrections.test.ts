import { describe, expect, test } from 'vitest'
import type { ClockEntry } from '#contract/hours.ts'
import type { Job } from '#contract/jobs.ts'
import { type Agent, startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const owner = await it.as('owner')

async function start(agent: Agent, job: Job, work: string, more: object = {}): Promise<ClockEntry> {
  return (await agent.post('/api/clock/start', { jobId: job.id, work, ...more }).expect(201)).body as ClockEntry
}

describe('putting hours right', () => {
  async function worked(agent: Agent, job: Job, minutes: number): Promise<ClockEntry> {
    await start(agent, job, 'truing')
    it.clock.pass(minutes)
    return (await agent.post('/api/clock/stop', {}).expect(200)).body as ClockEntry
  }

  test('keeps what the clock said, however often it is done', async () => {
    const bench = await it.as('bench', { name: 'Jonas' })
    const entry = await worked(bench, await bookJob(it), 60)
    const address = `/api/hours/${entry.id}`
    const first = { startedAt: entry.startedAt, stoppedAt: new Date(it.clock.now.getTime() - 20 * 60_000).toISOString(), why: 'tea' }
    expect((await bench.patch(address, first, 2).expect(200)).body).toMatchObject({ hours: 40 / 60, version: 3 })
    const second = await owner
      .patch(address, { ...first, startedAt: new Date(Date.parse(entry.startedAt) + 600_000).toISOString(), why: 'and a phone call' }, 3)
      .expect(200)
    expect(second.body).toMatchObject({
      hours: 0.5,
      corrected: { by: owner.person.name, why: 'and a phone call', wasStartedAt: entry.startedAt, wasStoppedAt: entry.stoppedAt },
    })
    const audit = await it.db.pool.query("SELECT payload FROM audit_row WHERE action = 'correct hours' AND entity_id = $1 ORDER BY seq", [
      entry.id,
    ])
    expect(audit.rows.map((row) => JSON.parse(row.payload).reason)).toEqual(['tea', 'and a phone call'])
  })

  test('is for one’s own hours, or the owner’s to do', async () => {
    const [jonas, marek] = [await it.as('bench'), await it.as('bench')]
    const entry = await worked(jonas, await bookJob(it), 30)
    const body = { startedAt: entry.startedAt, stoppedAt: entry.stoppedAt, why: 'checked' }
    await marek.patch(`/api/hours/${entry.id}`, body, 2).expect(403)
    await owner.patch(`/api/hours/${entry.id}`, body, 2).expect(200)
    await jonas.patch(`/api/hours/${entry.id}`, body).expect(428)
    await jonas.patch(`/api/hours/${entry.id}`, body, 2).expect(412)
    await jonas.patch(`/api/hours/${entry.id}`, { ...body, why: undefined }, 3).expect(400)
    await jonas.patch('/api/hours/01930000-0000-7000-8000-00000000dead', body, 1).expect(404)
    await it.nobody().patch(`/api/hours/${entry.id}`, body, 3).expect(401)
  })

  test('has to end after it starts, not after now, and not over other work of the same person', async () => {
    const bench = await it.as('bench')
    const job = await bookJob(it)
    const first = await worked(bench, job, 30)
    const second = await worked(bench, job, 30)
    const code = async (startedAt: string, stoppedAt: string) =>
      (await bench.patch(`/api/hours/${second.id}`, { startedAt, stoppedAt, why: 'mended' }, 2)).body.errors?.[0]?.code
    expect(await code(second.startedAt, second.startedAt)).toBe('ends-before-it-starts')
    expect(await code(second.startedAt, new Date(it.clock.now.getTime() + 60_000).toISOString())).toBe('in-the-future')
    expect(await code(first.startedAt, second.stoppedAt!)).toBe('overlaps')
    expect(await code(first.stoppedAt!, second.stoppedAt!)).toBeUndefined()
  })

  test('answers a lost correction again to the same key, and refuses the key for another', async () => {
    const bench = await it.as('bench')
    const entry = await worked(bench, await bookJob(it), 30)
    const body = { startedAt: entry.startedAt, stoppedAt: entry.stoppedAt, why: 'as it was' }
    const send = (why: string) => bench.patch(`/api/hours/${entry.id}`, { ...body, why }, 2).set('idempotency-key', `key-${entry.id}`)
    const first = await send('as it was').expect(200)
    const again = await send('as it was').expect(200)
    expect(again.headers.replayed).toBe('yes')
    expect(again.body).toEqual(first.body)
    await send('something else').expect(422)
  })
})
