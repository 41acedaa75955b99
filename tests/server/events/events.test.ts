import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { Agent } from '#tests/support/app.ts'
import { startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Marek' })
const job = await bookJob(it)

async function history(
  agent: Agent,
  query = '',
): Promise<{ rows: { seq: number; says: string; by: string; kind: string }[]; next: string | null }> {
  return (await agent.get(`/api/jobs/${job.id}/events${query}`).expect(200)).body
}

describe('notes', () => {
  test('are written by anybody into the history that all read', async () => {
    const answer = await bench.post(`/api/jobs/${job.id}/notes`, {
      says: 'right web loose, counter told',
      occurredAt: '2026-11-24T08:30:00Z',
    })
    expect(answer.status).toBe(201)
    expect(answer.body).toEqual({
      seq: expect.any(Number),
      kind: 'note',
      says: 'right web loose, counter told',
      by: 'Marek',
      occurredAt: '2026-11-24T08:30:00.000Z',
      recordedAt: '2026-11-24T09:00:00.000Z',
    })
    expect((await history(counter)).rows[0]).toEqual(answer.body)
  })

  test('once for one key, once for one id', async () => {
    const wanted = { id: randomUUID(), says: 'once' }
    const key = randomUUID()
    const first = await bench.post(`/api/jobs/${job.id}/notes`, wanted, key).expect(201)
    const repeat = await bench.post(`/api/jobs/${job.id}/notes`, wanted, key).expect(201)
    expect(repeat.body).toEqual(first.body)
    await bench.post(`/api/jobs/${job.id}/notes`, wanted).expect(409)
    expect((await history(bench)).rows.filter((event) => event.says === 'once')).toHaveLength(1)
  })

  test('have words, a job and somebody who writes them', async () => {
    await bench.post(`/api/jobs/${job.id}/notes`, {}).expect(400)
    await bench.post(`/api/jobs/${job.id}/notes`, { says: '' }).expect(400)
    await bench.post(`/api/jobs/${job.id}/notes`, { says: 'a'.repeat(1001) }).expect(400)
    await bench.post(`/api/jobs/${randomUUID()}/notes`, { says: 'a' }).expect(404)
    await it.nobody().post(`/api/jobs/${job.id}/notes`, { says: 'a' }).expect(401)
  })
})

describe('telling the customer', () => {
  test('stands on the page of the job; the bench reads that they were told, not what', async () => {
    const answer = await counter.post(`/api/jobs/${job.id}/told`, { says: 'Ready; 182.00 to pay, Mr Hollis', how: 'by phone' })
    expect(answer.status).toBe(201)
    expect(answer.body.lastTold).toEqual({ says: 'Ready; 182.00 to pay, Mr Hollis', at: '2026-11-24T09:00:00.000Z', how: 'by phone' })
    expect((await history(counter)).rows[0]?.says).toBe('Told, by phone: “Ready; 182.00 to pay, Mr Hollis”')
    const forBench = await bench.get(`/api/jobs/${job.id}/events`)
    expect(forBench.body.rows[0].says).toBe('The customer was told, by phone.')
    expect(forBench.text).not.toContain('Hollis')
    expect((await bench.get(`/api/jobs/${job.id}`)).body).not.toHaveProperty('lastTold')
  })

  test('is for the counter, with words and a way', async () => {
    await bench.post(`/api/jobs/${job.id}/told`, { says: 'a', how: 'by phone' }).expect(403)
    await it.nobody().post(`/api/jobs/${job.id}/told`, { says: 'a', how: 'by phone' }).expect(401)
    await counter.post(`/api/jobs/${job.id}/told`, { says: 'a' }).expect(400)
    await counter.post(`/api/jobs/${job.id}/told`, { says: 'a', how: 'by pigeon' }).expect(400)
    await counter.post(`/api/jobs/${randomUUID()}/told`, { says: 'a', how: 'by phone' }).expect(404)
  })
})

describe('the history', () => {
  test('runs from the newest line back, page by page, in the order the lines were written', async () => {
    const all = (await history(counter, '?limit=200')).rows
    expect(all.at(-1)?.kind).toBe('booked')
    expect(all.map((event) => event.seq)).toEqual(all.map((event) => event.seq).sort((one, other) => other - one))
    const seen: number[] = []
    let next: string | null = null
    do {
      const page: Awaited<ReturnType<typeof history>> = await history(counter, `?limit=2${next === null ? '' : `&after=${next}`}`)
      seen.push(...page.rows.map((event) => event.seq))
      next = page.next
    } while (next !== null)
    expect(seen).toEqual(all.map((event) => event.seq))
    expect((await history(counter, `?after=${all.at(-1)?.seq}`)).rows).toEqual([])
  })

  test('of no job is not there, and a cursor that is none of ours is refused', async () => {
    await counter.get(`/api/jobs/${randomUUID()}/events`).expect(404)
    await counter.get(`/api/jobs/${job.id}/events?after=x`).expect(400)
    await it.nobody().get(`/api/jobs/${job.id}/events`).expect(401)
  })

  test('cannot be changed afterwards', async () => {
    await expect(it.db.pool.query("UPDATE job_event SET says = 'other'")).rejects.toThrow(/permission denied/)
    await expect(it.db.pool.query('DELETE FROM job_event')).rejects.toThrow(/permission denied/)
  })
})
