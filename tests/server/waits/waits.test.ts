import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Marek' })
const sheet = await addEngine(it)
const book = () => bookJob(it, { engineId: sheet.id })

async function says(jobId: string): Promise<string> {
  return (await bench.get(`/api/jobs/${jobId}/events?limit=1`)).body.rows[0].says
}

describe('waiting', () => {
  test('for a kit, since when and due when; said again, the new day stands and the wait goes on', async () => {
    const job = await book()
    const first = await counter.post(`/api/jobs/${job.id}/waits`, { what: 'kit', note: 'Ardenlow K1', dueOn: '2026-11-26' })
    expect(first.status).toBe(201)
    expect(first.body.waiting).toEqual([{ what: 'kit', note: 'Ardenlow K1', since: '2026-11-24T09:00:00.000Z', dueOn: '2026-11-26' }])
    expect(await says(job.id)).toBe('Waits for the kit, due 26 November 2026: Ardenlow K1.')
    it.clock.pass(60)
    const again = await bench.post(`/api/jobs/${job.id}/waits`, { what: 'kit', dueOn: '2026-12-01' }).expect(201)
    expect(again.body.waiting).toEqual([{ what: 'kit', since: '2026-11-24T09:00:00.000Z', dueOn: '2026-12-01' }])
    expect(await says(job.id)).toBe('Still waits for the kit, due 1 December 2026.')
  })

  test('for several things at once, each ending for itself', async () => {
    const job = await book()
    await counter.post(`/api/jobs/${job.id}/waits`, { what: 'kit' }).expect(201)
    await counter.post(`/api/jobs/${job.id}/waits`, { what: 'outside', note: 'welder' }).expect(201)
    const over = await bench.post(`/api/jobs/${job.id}/waits/end`, { what: 'outside' }).expect(200)
    expect(over.body.waiting.map((wait: { what: string }) => wait.what)).toEqual(['kit'])
    expect(await says(job.id)).toBe('It is back from work outside.')
  })

  test('the kit that came in may be named by its lot', async () => {
    const job = await book()
    await counter.post(`/api/jobs/${job.id}/waits`, { what: 'kit' }).expect(201)
    const over = await counter.post(`/api/jobs/${job.id}/waits/end`, { what: 'kit', lot: 'A-2417' })
    expect([over.status, over.body.waiting]).toEqual([200, []])
    const events = await it.db.pool.query("SELECT says, data FROM job_event WHERE job_id = $1 AND kind = 'wait-over'", [job.id])
    expect(events.rows).toEqual([{ says: 'The kit is in, lot A-2417.', data: { lot: 'A-2417' } }])
    // It may wait for another one later.
    await counter.post(`/api/jobs/${job.id}/waits`, { what: 'kit' }).expect(201)
  })

  test('two who say it at once make one wait', async () => {
    const job = await book()
    const answers = await Promise.all([counter, bench].map((who) => who.post(`/api/jobs/${job.id}/waits`, { what: 'kit' })))
    expect(answers.map((answer) => answer.status)).toEqual([201, 201])
    expect((await bench.get(`/api/jobs/${job.id}`)).body.waiting).toHaveLength(1)
  })

  test('ends only where it waits, and of a kit alone there is a lot', async () => {
    const job = await book()
    const none = await counter.post(`/api/jobs/${job.id}/waits/end`, { what: 'kit' })
    expect([none.status, none.body.detail]).toEqual([409, `${job.tag} does not wait for the kit.`])
    await counter.post(`/api/jobs/${job.id}/waits`, { what: 'outside' }).expect(201)
    const lot = await counter.post(`/api/jobs/${job.id}/waits/end`, { what: 'outside', lot: 'A-1' })
    expect([lot.status, lot.body.errors[0].pointer]).toEqual([400, '/lot'])
  })

  test('not once it is gone', async () => {
    const job = await book()
    await it.db.pool.query("UPDATE job SET state = 'gone' WHERE id = $1", [job.id])
    await counter.post(`/api/jobs/${job.id}/waits`, { what: 'kit' }).expect(409)
  })

  test('out of shape, signed out, and of no job', async () => {
    const job = await book()
    await counter.post(`/api/jobs/${job.id}/waits`, {}).expect(400)
    await counter.post(`/api/jobs/${job.id}/waits`, { what: 'better weather' }).expect(400)
    await counter.post(`/api/jobs/${job.id}/waits`, { what: 'kit', dueOn: '26.11.2026' }).expect(400)
    for (const path of ['waits', 'waits/end']) {
      await it.nobody().post(`/api/jobs/${job.id}/${path}`, { what: 'kit' }).expect(401)
      await counter.post(`/api/jobs/${randomUUID()}/${path}`, { what: 'kit' }).expect(404)
    }
  })
})
