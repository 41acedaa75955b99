import { createHash, randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Marek' })
const owner = await it.as('owner', { name: 'Ewa' })
const sheet = await addEngine(it, { code: 'R449-4X' })

async function lastSays(jobId: string): Promise<string> {
  return (await counter.get(`/api/jobs/${jobId}/events?limit=1`).expect(200)).body.rows[0].says
}

describe('changing what was written at booking', () => {
  test('fields that are sent change, null takes one away, the others stay; the history names them', async () => {
    const job = await bookJob(it, {
      engineId: sheet.id,
      promisedOn: '2026-12-01',
      oil: '10W-50',
      usedFor: 'enduro',
      hours: 61,
      hoursHow: 'metered',
    })
    const answer = await counter.patch(`/api/jobs/${job.id}`, { promisedOn: '2026-12-03', oil: null, whoFits: 'owner fits' }, 1)
    expect(answer.status).toBe(200)
    expect(answer.body).toMatchObject({ promisedOn: '2026-12-03', whoFits: 'owner fits', usedFor: 'enduro', hours: 61, version: 2 })
    expect(answer.body).not.toHaveProperty('oil')
    expect(answer.headers.etag).toBe('"2"')
    expect(await lastSays(job.id)).toBe('Promise moved from 1 December 2026 to 3 December 2026. Changed: oil, who fits it.')
    const audit = await it.db.pool.query("SELECT payload::jsonb AS payload FROM audit_row WHERE action = 'change job' AND entity_id = $1", [
      job.id,
    ])
    expect(audit.rows[0].payload).toMatchObject({ before: { oil: '10W-50' }, after: { oil: null, promisedOn: '2026-12-03' } })
  })

  test('the days of promise and wish never move, whatever zone they are read in', async () => {
    const job = await bookJob(it, { engineId: sheet.id, promisedOn: '2027-03-28', wantedOn: '2027-10-31' })
    expect([job.promisedOn, job.wantedOn]).toEqual(['2027-03-28', '2027-10-31'])
    const rows = await it.db.pool.query('SELECT promised_on::text, wanted_on::text FROM job WHERE id = $1', [job.id])
    expect(rows.rows[0]).toEqual({ promised_on: '2027-03-28', wanted_on: '2027-10-31' })
    const taken = await counter.patch(`/api/jobs/${job.id}`, { promisedOn: null }, 1).expect(200)
    expect(taken.body).not.toHaveProperty('promisedOn')
    expect(await lastSays(job.id)).toBe('The promise was taken away.')
  })

  test('a change that changes nothing writes nothing', async () => {
    const job = await bookJob(it, { engineId: sheet.id })
    const answer = await counter.patch(`/api/jobs/${job.id}`, { goesBy: 'counter' }, 1).expect(200)
    expect(answer.body.version).toBe(1)
    expect(await lastSays(job.id)).toContain('Booked in')
  })

  test('without a version 428, on an older one 412 with the one that stands, and the weak form of our own tag is taken', async () => {
    const job = await bookJob(it, { engineId: sheet.id })
    await counter.patch(`/api/jobs/${job.id}`, { oil: 'a' }).expect(428)
    await counter.patch(`/api/jobs/${job.id}`, { oil: 'a' }).set('if-match', 'W/"1"').expect(200)
    const stale = await counter.patch(`/api/jobs/${job.id}`, { oil: 'b' }, 1)
    expect([stale.status, stale.body.type, stale.body.version]).toEqual([412, '/problems/stale-version', 2])
    const both = await Promise.all(['c', 'd'].map((oil) => owner.patch(`/api/jobs/${job.id}`, { oil }, 2)))
    expect(both.map((answer) => answer.status).sort()).toEqual([200, 412])
  })

  test.each([
    [{ hoursHow: 'unknown' }, '/hoursHow'],
    [{ promisedOn: '2026-11-23' }, '/promisedOn'],
    [{ hours: -1 }, '/hours'],
    [{ whyNow: 'bored' }, '/whyNow'],
    [{ cameWith: [{ what: 'keys', count: 0 }] }, '/cameWith/0/count'],
  ])('%o is refused', async (change, pointer) => {
    const job = await bookJob(it, { engineId: sheet.id, hours: 61, hoursHow: 'metered' })
    const answer = await counter.patch(`/api/jobs/${job.id}`, change, 1)
    expect([answer.status, answer.body.errors[0].pointer]).toEqual([400, pointer])
  })

  test('a promise that has passed meanwhile does not stand in the way of changing something else', async () => {
    const job = await bookJob(it, { engineId: sheet.id, promisedOn: '2026-11-24' })
    await it.db.pool.query("UPDATE job SET promised_on = '2026-11-20' WHERE id = $1", [job.id])
    await counter.patch(`/api/jobs/${job.id}`, { oil: '5W-40', promisedOn: '2026-11-20' }, 1).expect(200)
  })

  test('not for the bench, not for nobody, not for a job that is not there', async () => {
    const job = await bookJob(it, { engineId: sheet.id })
    await bench.patch(`/api/jobs/${job.id}`, { oil: 'a' }, 1).expect(403)
    await it.nobody().patch(`/api/jobs/${job.id}`, { oil: 'a' }, 1).expect(401)
    await counter.patch(`/api/jobs/${randomUUID()}`, { oil: 'a' }, 1).expect(404)
  })
})

describe('where it lies and who has it', () => {
  test('is changed by anybody, without a version', async () => {
    const job = await bookJob(it, { engineId: sheet.id, place: 'rack A' })
    const moved = await bench.post(`/api/jobs/${job.id}/place`, { place: 'bench 2', holderId: bench.person.id }).expect(200)
    expect(moved.body).toMatchObject({ place: 'bench 2', holder: 'Marek' })
    expect(await lastSays(job.id)).toBe('It lies on bench 2. Marek has it.')
    const back = await counter.post(`/api/jobs/${job.id}/place`, { place: null, holderId: null }).expect(200)
    expect(back.body).not.toHaveProperty('place')
    expect(back.body).not.toHaveProperty('holder')
    const only = await counter.post(`/api/jobs/${job.id}/place`, { place: 'shelf 3' }).expect(200)
    expect(only.body.place).toBe('shelf 3')
  })

  test('nothing said, a stranger, nobody signed in, and no such job', async () => {
    const job = await bookJob(it, { engineId: sheet.id })
    await bench.post(`/api/jobs/${job.id}/place`, {}).expect(400)
    const stranger = await bench.post(`/api/jobs/${job.id}/place`, { holderId: randomUUID() })
    expect(stranger.body.errors[0]).toMatchObject({ pointer: '/holderId', code: 'unknown' })
    await it.nobody().post(`/api/jobs/${job.id}/place`, { place: 'a' }).expect(401)
    await bench.post(`/api/jobs/${randomUUID()}/place`, { place: 'a' }).expect(404)
  })
})

describe('the secret address of the customer', () => {
  const tokenOf = (url: string) => url.slice('https://book.example/crank/'.length)

  test('has 256 random bits, is shown once, and only its hash is in the book', async () => {
    const job = await bookJob(it, { engineId: sheet.id })
    const key = randomUUID()
    const { url } = (await counter.post(`/api/jobs/${job.id}/link`, undefined, key).expect(201)).body
    expect(url).toMatch(/^https:\/\/book\.example\/crank\/[A-Za-z0-9_-]{43}$/)
    const rows = await it.db.pool.query('SELECT token_hash FROM public_link WHERE job_id = $1', [job.id])
    expect(rows.rows.map((row) => row.token_hash.toString('hex'))).toEqual([createHash('sha256').update(tokenOf(url)).digest('hex')])
    // No table holds the token itself: neither the stored answer, nor the history, nor the audit chain.
    for (const table of ['idempotency', 'job_event', 'audit_row']) {
      const held = await it.db.pool.query(`SELECT 1 FROM ${table} t WHERE t::text LIKE '%' || $1 || '%'`, [tokenOf(url)])
      expect([table, held.rowCount]).toEqual([table, 0])
    }
    const repeat = await counter.post(`/api/jobs/${job.id}/link`, undefined, key)
    expect([repeat.status, repeat.body.type]).toEqual([409, '/problems/conflict-state'])
  })

  test('a new one shuts the one before', async () => {
    const job = await bookJob(it, { engineId: sheet.id })
    const first = (await counter.post(`/api/jobs/${job.id}/link`).expect(201)).body.url
    await it
      .nobody()
      .get(`/api/public/crank/${tokenOf(first)}`)
      .expect(200)
    const second = (await counter.post(`/api/jobs/${job.id}/link`).expect(201)).body.url
    expect(second).not.toBe(first)
    await it
      .nobody()
      .get(`/api/public/crank/${tokenOf(first)}`)
      .expect(404)
    await it
      .nobody()
      .get(`/api/public/crank/${tokenOf(second)}`)
      .expect(200)
    expect(await lastSays(job.id)).toBe('A secret address was made for the customer. The one before it opens no more.')
  })

  test('not for the bench, and not of a job that is not there', async () => {
    const job = await bookJob(it, { engineId: sheet.id })
    await bench.post(`/api/jobs/${job.id}/link`).expect(403)
    await it.nobody().post(`/api/jobs/${job.id}/link`).expect(401)
    await counter.post(`/api/jobs/${randomUUID()}/link`).expect(404)
  })
})
