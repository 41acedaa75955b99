import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { Comeback } from '#contract/comebacks.ts'
import { COMEBACK_MONTHS, monthsAfter } from '#core/comeback.ts'
import { startApp } from '#tests/support/app.ts'
import { goneJob, reportTold, sendHome, TOLD } from '#tests/support/comeback-factories.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Jonas' })
const owner = await it.as('owner', { name: 'Ewa' })
const sheet = await addEngine(it)

const gone = (goneOn = '2026-03-02') =>
  goneJob(it, goneOn, { engineId: sheet.id, customer: { name: 'Hollis, A.', phone: '0161 496 0103' } })
const at = (id: string) => `/api/comebacks/${id}`

async function saysOf(jobId: string, by = counter): Promise<string[]> {
  return (await by.get(`/api/jobs/${jobId}/events`).expect(200)).body.rows.map((event: { says: string }) => event.says)
}

async function auditOf(id: string): Promise<string[]> {
  const rows = await it.db.pool.query('SELECT action FROM audit_row WHERE entity_id = $1 ORDER BY seq', [id])
  return rows.rows.map((row) => row.action)
}

describe('a report', () => {
  test('keeps what was said, by whom, and whether it counts; nothing is found and nothing decided', async () => {
    const job = await gone()
    const id = '0198f3a0-0000-7000-8000-00000000c001'
    const report = await reportTold(counter, job, { id, thought: 'premix' })
    expect(report).toMatchObject({
      id,
      job: { id: job.id, tag: job.tag, state: 'gone', kind: 'rebuild' },
      day: '2026-11-24',
      how: 'told',
      hours: 41,
      hoursHow: 'metered',
      says: 'knocks when warm',
      thought: 'premix',
      found: [],
      goneOn: '2026-03-02',
      daysSince: 267,
      counts: true,
      reportedBy: 'Hana',
      whose: 'Hollis, A.',
      customer: { name: 'Hollis, A.', phone: '0161 496 0103' },
      version: 1,
    })
    expect(report).not.toHaveProperty('cause')
    expect(report).not.toHaveProperty('lookedBy')
    expect(report).not.toHaveProperty('sheet')
    expect(await saysOf(job.id)).toContain('We were told that it failed, 24 November 2026; 41 h, metered. They say: “knocks when warm”')
    // The history cannot be mended, so the bench's line quotes nobody.
    expect((await saysOf(job.id, bench))[0]).toBe('We were told that it failed, 24 November 2026; 41 h, metered.')
    expect(await auditOf(id)).toEqual(['report comeback'])
  })

  test('is not a second one of the same job; the refusal names the first', async () => {
    const job = await gone()
    const { id } = await reportTold(counter, job)
    const again = await counter.post(`/api/jobs/${job.id}/comeback`, TOLD)
    expect(again.status).toBe(409)
    expect(again.body.detail).toBe(`${job.tag} has a report already, of 24 November 2026; write into that one instead: ${id}.`)
  })

  test('of two who report at once one stands', async () => {
    const job = await gone()
    const answers = await Promise.all([counter, owner].map((who) => who.post(`/api/jobs/${job.id}/comeback`, TOLD)))
    expect(answers.map((answer) => answer.status).sort()).toEqual([201, 409])
  })

  test('later than the 12 months is kept and does not count', async () => {
    const job = await gone('2025-11-23')
    expect(await reportTold(counter, job)).toMatchObject({
      counts: false,
      countsWhy: 'It does not count: the 12 months ended on 23 November 2026.',
    })
  })

  test.each([
    ['without what they say', { says: '' }, '/says', 'too_small'],
    ['without a day', { day: undefined }, '/day', 'invalid_type'],
    ['on a day to come', { day: '2026-11-25' }, '/day', 'ahead'],
    ['before it went home', { day: '2026-03-01' }, '/day', 'before-it-went'],
    ['hours of which nobody knows how', { hoursHow: 'unknown' }, '/hoursHow', 'unknown-hours'],
    ['known hours without their number', { hours: undefined }, '/hours', 'missing'],
    ['how it did not come', { how: 'guessed' }, '/how', 'invalid_value'],
    ['a cause at the counter', { cause: 'workmanship' }, '', 'unrecognized_keys'],
  ])('is refused %s', async (_what, change, pointer, code) => {
    const job = await gone()
    const answer = await counter.post(`/api/jobs/${job.id}/comeback`, { ...TOLD, ...change })
    expect(answer.status).toBe(400)
    expect(answer.body.errors).toContainEqual(expect.objectContaining({ pointer, code }))
  })

  test('is refused of a crank that never went home, of none at all, by the bench, by nobody, and without a key', async () => {
    const here = await bookJob(it, { engineId: sheet.id })
    const answer = await counter.post(`/api/jobs/${here.id}/comeback`, TOLD)
    expect([answer.status, answer.body.detail]).toEqual([409, `${here.tag} has not gone home done, so nothing is heard of it from there.`])
    await counter.post(`/api/jobs/${randomUUID()}/comeback`, TOLD).expect(404)
    await bench.post(`/api/jobs/${here.id}/comeback`, TOLD).expect(403)
    await it.nobody().post(`/api/jobs/${here.id}/comeback`, TOLD).expect(401)
    await counter.post(`/api/jobs/${here.id}/comeback`, TOLD).unset('idempotency-key').expect(400)
  })

  test('sent again under the same key is written once', async () => {
    const job = await gone()
    const key = randomUUID()
    const first = await counter.post(`/api/jobs/${job.id}/comeback`, TOLD, key).expect(201)
    const second = await counter.post(`/api/jobs/${job.id}/comeback`, TOLD, key).expect(201)
    expect([second.body, second.headers.replayed]).toEqual([first.body, 'yes'])
  })
})

describe('found, thought and decided', () => {
  test('the bench writes what it found, the owner decides after it; both stand in the history', async () => {
    const job = await gone()
    const report = await reportTold(counter, job)
    it.clock.pass(30)
    const found = await bench.patch(at(report.id), { found: ['washers-both-blue', 'cage-broken'], foundNote: 'silver on the rod' }, 1)
    expect([found.status, found.headers.etag]).toEqual([200, '"2"'])
    expect(found.body).toMatchObject({
      found: ['washers-both-blue', 'cage-broken'],
      foundNote: 'silver on the rod',
      lookedBy: 'Jonas',
      lookedAt: it.clock.now.toISOString(),
      lookedByBuilder: false,
      version: 2,
    })
    const decided = await owner.patch(at(report.id), { cause: 'lubrication', share: 'theirs' }, 2)
    expect(decided.body).toMatchObject({ cause: 'lubrication', share: 'theirs', lookedBy: 'Jonas', version: 3 })
    expect((await saysOf(job.id, bench)).slice(0, 2)).toEqual([
      'The comeback is decided: oil, fuel or dirt; it is theirs.',
      'Found on the comeback: both washers blue; cage broken; silver on the rod.',
    ])
    expect(await auditOf(report.id)).toEqual(['report comeback', 'change comeback', 'change comeback'])
    // What was found cannot be taken away from under what was decided.
    const bare = await owner.patch(at(report.id), { found: [], foundNote: null }, 3)
    expect([bare.status, bare.body.errors[0].pointer]).toEqual([400, '/cause'])
    const open = await owner.patch(at(report.id), { cause: null, found: [], foundNote: null }, 3).expect(200)
    for (const name of ['cause', 'share', 'lookedBy', 'foundNote']) expect(open.body).not.toHaveProperty(name)
  })

  test('blame before looking is refused, and so is half of it', async () => {
    const report = await reportTold(counter, await gone())
    const early = await owner.patch(at(report.id), { cause: 'workmanship', share: 'ours' }, 1)
    expect([early.status, early.body.errors[0].pointer]).toEqual([400, '/cause'])
    expect(early.body.detail).toContain('decided after looking')
    const half = await owner.patch(at(report.id), { found: ['stuffer-loose'], cause: 'workmanship' }, 1)
    expect(half.body.errors).toEqual([
      { pointer: '/share', code: 'not-decided-so', detail: 'Say whose it is too; not known is an answer.' },
    ])
    const clash = await bench.patch(at(report.id), { found: ['nothing-wrong', 'stuffer-loose'] }, 1)
    expect(clash.body.errors[0]).toMatchObject({ pointer: '/found', code: 'clash' })
    expect((await owner.get(at(report.id))).body).toMatchObject({ found: [], version: 1 })
  })

  test('says so when whoever looked at it had built it', async () => {
    const job = await gone()
    await it.db.pool.query("INSERT INTO job_step (id, job_id, step, person_id, at) VALUES (gen_random_uuid(), $1, 'together', $2, now())", [
      job.id,
      bench.person.id,
    ])
    const report = await reportTold(counter, job)
    expect(report.builders).toEqual(['Jonas'])
    const found = await bench.patch(at(report.id), { found: ['width-changed'] }, 1).expect(200)
    expect(found.body).toMatchObject({ lookedBy: 'Jonas', lookedByBuilder: true })
    expect((await saysOf(job.id))[0]).toBe('Found on the comeback, by the one who built it: width changed.')
    const after = await owner.patch(at(report.id), { found: ['width-changed', 'pin-shifted'] }, 2).expect(200)
    expect(after.body).toMatchObject({ lookedBy: 'Ewa', lookedByBuilder: false })
  })

  test('each part by whom it belongs to', async () => {
    const report = await reportTold(counter, await gone())
    const refused = async (who: typeof counter, body: object) => {
      const answer = await who.patch(at(report.id), body, 1)
      return [answer.status, answer.body.detail]
    }
    expect(await refused(counter, { found: ['cage-broken'] })).toEqual([403, 'What was found is written down at the bench.'])
    expect(await refused(counter, { cause: 'kit' })).toEqual([403, 'Cause and whose it is are for the owner to decide.'])
    expect(await refused(bench, { share: 'ours' })).toEqual([403, 'Cause and whose it is are for the owner to decide.'])
    expect(await refused(bench, { hours: 3 })).toEqual([403, 'What was reported is corrected at the counter.'])
    await it.nobody().patch(at(report.id), {}, 1).expect(401)
    const later = await counter.patch(at(report.id), { hours: null, says: 'knocks cold too', day: '2026-11-20', thought: 'lean?' }, 1)
    expect(later.body).toMatchObject({ hoursHow: 'unknown', says: 'knocks cold too', day: '2026-11-20', thought: 'lean?', version: 2 })
    expect(later.body).not.toHaveProperty('hours')
    expect((await saysOf(report.job.id))[0]).toBe(
      'Changed on the comeback: day 20 November 2026, hours not known, what they say, what is thought of it.',
    )
  })

  test('at the version that was seen, or not at all; the same again changes nothing', async () => {
    const report = await reportTold(counter, await gone())
    await bench.patch(at(report.id), { thought: 'side load' }, 1).expect(200)
    const stale = await owner.patch(at(report.id), { thought: 'thin oil' }, 1)
    expect([stale.status, stale.body.version]).toEqual([412, 2])
    await owner.patch(at(report.id), { thought: 'thin oil' }).expect(428)
    const same = await owner.patch(at(report.id), { thought: 'side load' }, 2)
    expect([same.status, same.body.version]).toEqual([200, 2])
    await owner.patch(at(randomUUID()), {}, 1).expect(404)
    const [a, b] = await Promise.all([bench, owner].map((who) => who.patch(at(report.id), { thought: who.person.name }, 2)))
    expect([a!.status, b!.status].sort()).toEqual([200, 412])
  })
})

describe('a report struck out', () => {
  test('stays to be read, counts no more, takes nothing more, and leaves room for another', async () => {
    const job = await gone()
    const report = await reportTold(counter, job)
    await counter.post(`${at(report.id)}/strike`, {}).expect(400)
    await bench.post(`${at(report.id)}/strike`, { reason: 'x' }).expect(403)
    await it
      .nobody()
      .post(`${at(report.id)}/strike`, { reason: 'x' })
      .expect(401)
    await counter.post(`${at(randomUUID())}/strike`, { reason: 'x' }).expect(404)
    const struck = await counter.post(`${at(report.id)}/strike`, { reason: 'it was another crank' }).expect(200)
    expect(struck.body).toMatchObject({ counts: false, struck: { by: 'Hana', because: 'it was another crank' }, version: 2 })
    expect((await saysOf(job.id))[0]).toBe('The report that it came back was struck out: it was another crank')
    await counter.post(`${at(report.id)}/strike`, { reason: 'again' }).expect(409)
    await bench.patch(at(report.id), { found: ['cage-broken'] }, 2).expect(409)
    expect((await reportTold(counter, job)).id).not.toBe(report.id)
    const list = await owner.get('/api/comebacks?list=struck').expect(200)
    expect(list.body.rows.map((row: Comeback) => row.id)).toEqual([report.id])
  })

  test('after it was decided is struck by the owner', async () => {
    const report = await reportTold(counter, await gone())
    await owner.patch(at(report.id), { found: ['seal-land-grooved'], cause: 'not-known', share: 'not-known' }, 1).expect(200)
    await counter.post(`${at(report.id)}/strike`, { reason: 'x' }).expect(403)
    await owner.post(`${at(report.id)}/strike`, { reason: 'written twice' }).expect(200)
  })
})

test('the bench reads a report without whose it is', async () => {
  const report = await reportTold(counter, await gone())
  const read = await bench.get(at(report.id)).expect(200)
  expect(read.body).toMatchObject({ id: report.id, says: 'knocks when warm' })
  expect(JSON.stringify([read.body, (await bench.get('/api/comebacks')).body])).not.toMatch(/Hollis|0161/)
  await it.nobody().get(at(report.id)).expect(401)
  await bench.get(at(randomUUID())).expect(404)
})

// The database's own calendar as the second opinion (PostgreSQL, 9.9).
test('twelve months later is the day that the database says too', async () => {
  for (const date of ['2026-11-24', '2028-02-29', '2027-02-28', '2024-01-31']) {
    const asked = await it.db.pool.query("SELECT to_char($1::date + make_interval(months => $2), 'YYYY-MM-DD') AS day", [
      date,
      COMEBACK_MONTHS,
    ])
    expect(monthsAfter(date, COMEBACK_MONTHS)).toBe(asked.rows[0].day)
  }
})

test('of a job whose going home was taken back nothing counts', async () => {
  const job = await gone()
  const report = await reportTold(counter, job)
  await it.db.pool.query("UPDATE job SET state = 'signed', gone_at = NULL WHERE id = $1", [job.id])
  expect((await owner.get(at(report.id))).body).toMatchObject({ counts: false, countsWhy: expect.stringContaining('taken back') })
  await sendHome(it, job, '2026-03-02')
})
