import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { ComebackRow } from '#contract/comebacks.ts'
import type { Job } from '#contract/jobs.ts'
import { type Agent, startApp } from '#tests/support/app.ts'
import { goneJob, reportTold, sendHome } from '#tests/support/comeback-factories.ts'
import { addEngine, bookingOf, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Jonas' })
const owner = await it.as('owner', { name: 'Ewa' })
const sheet = await addEngine(it)
const other = await addEngine(it, { maker: 'Ardenlow', code: 'A-1' })

const BAD = 'S-0936'
const hollis = { name: 'Hollis, A.', phone: '0161 496 0103', mail: 'a.hollis@mail.example' }
const gone = (goneOn: string, lot: string, engineId = sheet.id) => goneJob(it, goneOn, { engineId, lot, by: bench, customer: hollis })

const first = await gone('2026-03-02', BAD)
const second = await gone('2026-05-02', BAD)
const third = await gone('2026-06-02', 'T-1', other.id)
await it.db.pool.query("INSERT INTO job_step (id, job_id, step, person_id, at) VALUES (gen_random_uuid(), $1, 'trued', $2, now())", [
  third.id,
  bench.person.id,
])
const ofFirst = await reportTold(counter, first, { day: '2026-11-02' })
const ofSecond = await reportTold(counter, second, { day: '2026-11-20' })
const ofThird = await reportTold(counter, third, { day: '2026-11-22' })
await owner.patch(`/api/comebacks/${ofThird.id}`, { found: ['nothing-wrong'], cause: 'nothing-found', share: 'not-known' }, 1).expect(200)

async function tagsOf(query: string, by: Agent = owner): Promise<string[]> {
  return (await by.get(`/api/comebacks?${query}`).expect(200)).body.rows.map((row: ComebackRow) => row.job.tag)
}

describe('the list of what came back', () => {
  test('has those without a cause first, of each the newest first', async () => {
    expect(await tagsOf('')).toEqual([second.tag, first.tag, third.tag])
    expect(await tagsOf('list=open')).toEqual([second.tag, first.tag])
    const page = await counter.get('/api/comebacks')
    expect(page.body).toMatchObject({ counts: { open: 2, all: 3 }, today: '2026-11-24', next: null })
    expect(page.body.rows[0]).toMatchObject({ lot: BAD, engine: 'Ruskhammar R449-4X 1', whose: 'Hollis, A.', daysSince: 202 })
  })

  test('goes on where the page before ended, across the decided ones too', async () => {
    const seen: string[] = []
    let after = ''
    for (let page = 0; page < 3; page++) {
      const answer = await owner.get(`/api/comebacks?limit=1${after}`).expect(200)
      seen.push(...answer.body.rows.map((row: ComebackRow) => row.job.tag))
      after = `&after=${encodeURIComponent(answer.body.next)}`
      expect(answer.body.next === null).toBe(page === 2)
    }
    expect(seen).toEqual([second.tag, first.tag, third.tag])
  })

  test('can be narrowed by cause, lot, engine and builder', async () => {
    expect(await tagsOf('cause=nothing-found')).toEqual([third.tag])
    expect(await tagsOf('cause=kit')).toEqual([])
    expect(await tagsOf(`lot=${BAD.toLowerCase()}`)).toEqual([second.tag, first.tag])
    expect(await tagsOf(`engine=${other.id}`)).toEqual([third.tag])
    expect(await tagsOf(`person=${bench.person.id}`)).toEqual([third.tag])
    expect(await tagsOf(`person=${owner.person.id}`)).toEqual([])
  })

  test('refuses what it does not know', async () => {
    for (const query of ['after=there', 'after=x%202026-11-24', 'list=shut', 'cause=fate', 'limit=0'])
      await owner.get(`/api/comebacks?${query}`).expect(400)
    await it.nobody().get('/api/comebacks').expect(401)
  })
})

describe('who else has the lot', () => {
  const address = `/api/comebacks/${ofFirst.id}/same-lot`

  test('each with where it is, when it was last heard of, and whether it came back', async () => {
    const here = await bookJob(it, { engineId: sheet.id })
    await bench.post(`/api/jobs/${here.id}/kit`, { maker: 'Ardenlow', part: 'K-1', lot: BAD, whose: 'theirs' }).expect(201)
    const quiet = await gone('2026-10-02', BAD)
    const call = { day: '2026-11-01', runs: true, hours: 9, hoursHow: 'declared' }
    await counter.post(`/api/jobs/${quiet.id}/follow-ups`, call).expect(201)
    const renamed = await gone('2026-10-02', BAD)
    await it.db.pool.query("UPDATE kit_fitted SET struck_at = now(), struck_because = 'x' WHERE job_id = $1", [renamed.id])
    const resold = await gone('2026-10-02', BAD)
    await bookJob(it, { crank: { id: resold.crank.id } })

    const found = await counter.get(address).expect(200)
    expect(found.body).toMatchObject({ kit: { maker: 'Ardenlow', part: 'K-1', lot: BAD }, gone: 4, back: 2, next: null })
    expect(found.body.rows).toEqual([
      {
        id: second.id,
        tag: second.tag,
        state: 'gone',
        engine: 'Ruskhammar R449-4X 1',
        kitWhose: 'ours',
        goneOn: '2026-05-02',
        stillOut: true,
        comeback: { id: ofSecond.id, day: '2026-11-20' },
        whose: hollis.name,
        phone: hollis.phone,
        mail: hollis.mail,
      },
      expect.objectContaining({ tag: here.tag, state: 'booked', kitWhose: 'theirs', stillOut: false }),
      expect.objectContaining({ tag: quiet.tag, stillOut: true, lastHeard: { day: '2026-11-01', runs: true, hours: 9 } }),
      expect.objectContaining({ tag: resold.tag, state: 'gone', stillOut: false }),
    ])
    expect(found.body.rows[1]).not.toHaveProperty('goneOn')
    // The same page by page.
    const page = await counter.get(`${address}?limit=2`).expect(200)
    expect(page.body.rows).toHaveLength(2)
    const rest = await counter.get(`${address}?limit=2&after=${page.body.next}`).expect(200)
    expect([...page.body.rows, ...rest.body.rows]).toEqual(found.body.rows)
  })

  test('the bench is told no names and phones; without a lot there is nobody', async () => {
    expect(JSON.stringify((await bench.get(address).expect(200)).body)).not.toMatch(/Hollis|0161|example/)
    const bare = await reportTold(counter, await goneJob(it, '2026-03-02', { engineId: sheet.id }))
    expect((await counter.get(`/api/comebacks/${bare.id}/same-lot`)).body).toEqual({ rows: [], next: null, gone: 0, back: 0 })
    await counter.get(`/api/comebacks/${randomUUID()}/same-lot`).expect(404)
    await it.nobody().get(address).expect(401)
  })
})

describe('since it went home', () => {
  test('what was heard, for whom may read it', async () => {
    const job: Job = await gone('2026-10-02', 'T-9')
    const since = await counter.get(`/api/jobs/${job.id}/since-home`).expect(200)
    expect(since.body).toEqual({ goneOn: '2026-10-02', calls: [], callDue: true, today: '2026-11-24' })
    await reportTold(counter, job)
    const told = await bench.get(`/api/jobs/${job.id}/since-home`).expect(200)
    expect(told.body).toMatchObject({ callDue: false, report: { day: '2026-11-24' } })
    expect(JSON.stringify(told.body)).not.toContain('Hollis')
    await counter.get(`/api/jobs/${randomUUID()}/since-home`).expect(404)
    await it.nobody().get(`/api/jobs/${job.id}/since-home`).expect(401)
  })

  test('nothing is due of a crank in the house', async () => {
    const here = (await owner.post('/api/jobs', await bookingOf(it, { engineId: sheet.id })).expect(201)).body
    expect((await counter.get(`/api/jobs/${here.id}/since-home`)).body).toEqual({ calls: [], callDue: false, today: '2026-11-24' })
    await sendHome(it, here, '2026-11-23')
    expect((await counter.get(`/api/jobs/${here.id}/since-home`)).body).toMatchObject({ goneOn: '2026-11-23', callDue: false })
  })
})
