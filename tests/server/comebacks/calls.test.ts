import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { FollowUp } from '#contract/follow-ups.ts'
import { CALL_RULE } from '#core/comeback-calls.ts'
import { startApp } from '#tests/support/app.ts'
import { goneJob, reportTold } from '#tests/support/comeback-factories.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Jonas' })
const owner = await it.as('owner', { name: 'Ewa' })
const sheet = await addEngine(it)
const gone = (goneOn: string, more: object = {}) =>
  goneJob(it, goneOn, { engineId: sheet.id, customer: { name: 'Hollis, A.', phone: '0161 496 0103' }, usedFor: 'enduro', ...more })

const RUNS = { day: '2026-11-24', runs: true, hours: 3.5, hoursHow: 'declared', says: 'quiet' } as const

async function saysOf(jobId: string, by = counter): Promise<string[]> {
  return (await by.get(`/api/jobs/${jobId}/events`).expect(200)).body.rows.map((event: { says: string }) => event.says)
}

describe('a call after it went home', () => {
  test('is kept with hours and words, and stands in the history', async () => {
    const job = await gone('2026-11-01')
    const call = await counter.post(`/api/jobs/${job.id}/follow-ups`, RUNS).expect(201)
    expect(call.body).toEqual({ id: expect.any(String), ...RUNS, by: 'Hana', recordedAt: it.clock.now.toISOString() })
    expect((await saysOf(job.id))[0]).toBe('It runs, heard 24 November 2026; 3.5 h, declared. They say: “quiet”')
    expect((await saysOf(job.id, bench))[0]).toBe('It runs, heard 24 November 2026; 3.5 h, declared.')
    const audit = await it.db.pool.query('SELECT action FROM audit_row WHERE entity_id = $1', [call.body.id])
    expect(audit.rows).toEqual([{ action: 'record call' }])
    // A second call, of a crank that runs well no more, is another call and no report by itself.
    await counter.post(`/api/jobs/${job.id}/follow-ups`, { day: '2026-11-24', runs: false, hoursHow: 'unknown' }).expect(201)
    const { calls, report } = (await counter.get(`/api/jobs/${job.id}/since-home`)).body
    expect(calls.map((one: FollowUp) => one.runs)).toEqual([false, true])
    expect(report).toBeUndefined()
  })

  test.each([
    ['without whether it runs', { runs: undefined }, '/runs', 'invalid_type'],
    ['on a day to come', { day: '2026-11-25' }, '/day', 'ahead'],
    ['before it went home', { day: '2026-10-31' }, '/day', 'before-it-went'],
    ['with hours nobody knows how', { hoursHow: 'unknown' }, '/hoursHow', 'unknown-hours'],
    ['with hours under 0', { hours: -1 }, '/hours', 'too_small'],
  ])('is refused %s', async (_what, change, pointer, code) => {
    const job = await gone('2026-11-01')
    const answer = await counter.post(`/api/jobs/${job.id}/follow-ups`, { ...RUNS, ...change })
    expect(answer.status).toBe(400)
    expect(answer.body.errors).toContainEqual(expect.objectContaining({ pointer, code }))
  })

  test('is refused of a crank in the house, of none, by the bench, by nobody, and under an id that is taken', async () => {
    const here = await bookJob(it, { engineId: sheet.id })
    await counter.post(`/api/jobs/${here.id}/follow-ups`, RUNS).expect(409)
    await counter.post(`/api/jobs/${randomUUID()}/follow-ups`, RUNS).expect(404)
    await bench.post(`/api/jobs/${here.id}/follow-ups`, RUNS).expect(403)
    await it.nobody().post(`/api/jobs/${here.id}/follow-ups`, RUNS).expect(401)
    const job = await gone('2026-11-01')
    const id = randomUUID()
    await counter.post(`/api/jobs/${job.id}/follow-ups`, { ...RUNS, id }).expect(201)
    await counter.post(`/api/jobs/${job.id}/follow-ups`, { ...RUNS, id }).expect(409)
  })

  test('struck out stays to be read and makes the call due again', async () => {
    const job = await gone('2026-10-01')
    const { body: call } = await counter.post(`/api/jobs/${job.id}/follow-ups`, RUNS).expect(201)
    const due = async () => (await counter.get(`/api/jobs/${job.id}/since-home`)).body.callDue
    expect(await due()).toBe(false)
    await counter.post(`/api/follow-ups/${call.id}/strike`, {}).expect(400)
    await bench.post(`/api/follow-ups/${call.id}/strike`, { reason: 'x' }).expect(403)
    await it.nobody().post(`/api/follow-ups/${call.id}/strike`, { reason: 'x' }).expect(401)
    await counter.post(`/api/follow-ups/${randomUUID()}/strike`, { reason: 'x' }).expect(404)
    const struck = await owner.post(`/api/follow-ups/${call.id}/strike`, { reason: 'another crank' }).expect(200)
    expect(struck.body).toMatchObject({ id: call.id, runs: true, struck: { by: 'Ewa', because: 'another crank' } })
    expect((await saysOf(job.id))[0]).toBe('The call of 24 November 2026 was struck out: another crank')
    await counter.post(`/api/follow-ups/${call.id}/strike`, { reason: 'x' }).expect(409)
    expect(await due()).toBe(true)
    // A call is never changed: the database itself holds that.
    await expect(it.db.pool.query('UPDATE follow_up SET runs = false WHERE id = $1', [call.id])).rejects.toThrow(/never changed|permission/)
  })
})

describe('whom to ring', () => {
  test('three weeks to four months after, unless something was heard; the one that is gone longest first', async () => {
    const before = (await counter.get('/api/follow-ups/due').expect(200)).body.due
    const [old, newer] = [await gone('2026-07-27'), await gone('2026-11-03')]
    await gone('2026-07-26')
    await gone('2026-11-04')
    await gone('2026-09-01', { kind: 'check-and-report' })
    const rung = await gone('2026-09-02')
    await counter.post(`/api/jobs/${rung.id}/follow-ups`, RUNS).expect(201)
    await reportTold(counter, await gone('2026-09-03'))
    const back = await gone('2026-09-04')
    await bookJob(it, { crank: { id: back.crank.id } })

    const page = await counter.get('/api/follow-ups/due').expect(200)
    expect(page.body).toMatchObject({ due: before + 2, rule: CALL_RULE, today: '2026-11-24' })
    const mine = page.body.rows.filter((row: { tag: string }) => [old.tag, newer.tag].includes(row.tag))
    expect(mine).toEqual([
      {
        id: old.id,
        tag: old.tag,
        kind: 'rebuild',
        engine: `${sheet.maker} ${sheet.code}`,
        goneOn: '2026-07-27',
        daysGone: 120,
        usedFor: 'enduro',
        whose: 'Hollis, A.',
        phone: '0161 496 0103',
        hearBy: 'phone',
      },
      expect.objectContaining({ tag: newer.tag, goneOn: '2026-11-03', daysGone: 21 }),
    ])
    // What the list says and what the page of one job says is one rule.
    for (const row of page.body.rows) expect((await counter.get(`/api/jobs/${row.id}/since-home`)).body.callDue).toBe(true)
    const one = await counter.get('/api/follow-ups/due?limit=1').expect(200)
    const rest = await counter.get(`/api/follow-ups/due?after=${encodeURIComponent(one.body.next)}`).expect(200)
    expect([...one.body.rows, ...rest.body.rows]).toEqual(page.body.rows)
  })

  test('is the counter’s list', async () => {
    await bench.get('/api/follow-ups/due').expect(403)
    await it.nobody().get('/api/follow-ups/due').expect(401)
    await counter.get('/api/follow-ups/due?after=x').expect(400)
  })
})
