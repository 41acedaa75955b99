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

async function clockOf(agent: Agent): Promise<{ running: ClockEntry | null; unanswered: ClockEntry[] }> {
  return (await agent.get('/api/clock').expect(200)).body
}

describe('the clock', () => {
  test('runs on one job at a time: the next start stops it', async () => {
    const bench = await it.as('bench', { name: 'Jonas' })
    const [one, other] = [await bookJob(it), await bookJob(it)]
    expect(await clockOf(bench)).toEqual({ running: null, unanswered: [] })
    const first = await start(bench, one, 'measuring')
    expect(first).toEqual({
      id: expect.any(String),
      personId: bench.person.id,
      person: 'Jonas',
      jobId: one.id,
      tag: one.tag,
      work: 'measuring',
      startedAt: it.clock.now.toISOString(),
      version: 1,
    })
    expect((await clockOf(bench)).running).toEqual(first)
    it.clock.pass(45)
    const second = await start(bench, other, 'truing')
    expect((await clockOf(bench)).running?.id).toBe(second.id)
    const hours = (await bench.get(`/api/jobs/${one.id}/hours`).expect(200)).body
    expect(hours).toMatchObject({
      entries: [{ id: first.id, stoppedAt: it.clock.now.toISOString(), stoppedHow: 'next-clock', hours: 0.75, version: 2 }],
      totalHours: 0.75,
      byWork: [{ work: 'measuring', hours: 0.75 }],
    })
    it.clock.pass(30)
    const stopped = (await bench.post('/api/clock/stop', {}).expect(200)).body
    expect(stopped).toMatchObject({ id: second.id, stoppedHow: 'hand', hours: 0.5 })
    await bench.post('/api/clock/stop', {}).expect(409)
  })

  test('is one a person, however many starts come at once', async () => {
    const bench = await it.as('bench')
    const job = await bookJob(it)
    const answers = await Promise.all(Array.from({ length: 12 }, () => bench.post('/api/clock/start', { jobId: job.id, work: 'truing' })))
    expect(answers.map((answer) => answer.status)).toEqual(answers.map(() => 201))
    const rows = await it.db.pool.query('SELECT count(*)::int AS running FROM clock_entry WHERE person_id = $1 AND stopped_at IS NULL', [
      bench.person.id,
    ])
    expect(rows.rows).toEqual([{ running: 1 }])
    await expect(
      it.db.pool.query(
        "INSERT INTO clock_entry (id, person_id, job_id, work, started_at) VALUES (gen_random_uuid(), $1, $2, 'truing', now())",
        [bench.person.id, job.id],
      ),
    ).rejects.toThrow('one_running_clock')
    await bench.post('/api/clock/stop', {}).expect(200)
  })

  test('counts while it runs', async () => {
    const bench = await it.as('bench')
    const job = await bookJob(it)
    await start(bench, job, 'pressing')
    it.clock.pass(15)
    const hours = (await bench.get(`/api/jobs/${job.id}/hours`).expect(200)).body
    expect(hours.totalHours).toBe(0.25)
    expect(hours.entries[0]).not.toHaveProperty('hours')
    await bench.post('/api/clock/stop', {}).expect(200)
  })

  test('started on a tablet out of reach counts from then, but never over a clock before it, and never from tomorrow', async () => {
    const bench = await it.as('bench')
    const job = await bookJob(it)
    const from = new Date(it.clock.now.getTime() - 20 * 60_000).toISOString()
    expect((await start(bench, job, 'truing', { occurredAt: from })).startedAt).toBe(from)
    it.clock.pass(10)
    const stopped = (await bench.post('/api/clock/stop', {}).expect(200)).body
    expect(stopped.hours).toBe(0.5)
    expect((await start(bench, job, 'truing', { occurredAt: from })).startedAt).toBe(stopped.stoppedAt)
    const tomorrow = new Date(it.clock.now.getTime() + 86_400_000).toISOString()
    expect((await start(bench, job, 'truing', { occurredAt: tomorrow })).startedAt).toBe(it.clock.now.toISOString())
    await bench.post('/api/clock/stop', {}).expect(200)
  })

  test('is the bench’s, on a job that is here', async () => {
    const bench = await it.as('bench')
    const counter = await it.as('counter')
    const job = await bookJob(it)
    const body = { jobId: job.id, work: 'truing' }
    await counter.get('/api/clock').expect(403)
    await counter.post('/api/clock/start', body).expect(403)
    await counter.get(`/api/jobs/${job.id}/hours`).expect(403)
    await it.nobody().post('/api/clock/start', body).expect(401)
    await bench.post('/api/clock/start', { jobId: job.id }).expect(400)
    await bench.post('/api/clock/start', { ...body, work: 'thinking' }).expect(400)
    await bench.post('/api/clock/start', { ...body, jobId: '01930000-0000-7000-8000-00000000dead' }).expect(400)
    await bench.get('/api/jobs/01930000-0000-7000-8000-00000000dead/hours').expect(404)
    await owner.post(`/api/jobs/${job.id}/end`, { end: 'scrapped', reason: 'cracked' }).expect(200)
    await bench.post('/api/clock/start', body).expect(409)
  })
})
