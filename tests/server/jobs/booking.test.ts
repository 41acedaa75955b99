import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { nextTagNumber, parseTag, tagOf } from '#core/tag.ts'
import { startApp } from '#tests/support/app.ts'
import { addCustomer, addEngine, bookingOf, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench')
const sheet = await addEngine(it, { code: 'R449-4X' })

async function rowsOf(...tables: string[]): Promise<number[]> {
  const counted = tables.map(async (table) => Number((await it.db.pool.query(`SELECT count(*) FROM ${table}`)).rows[0].count))
  return Promise.all(counted)
}

async function saysOf(jobId: string): Promise<string[]> {
  const answer = await counter.get(`/api/jobs/${jobId}/events`).expect(200)
  return answer.body.rows.map((event: { says: string }) => event.says)
}

async function goneAt(jobId: string) {
  await it.db.pool.query("UPDATE job SET state = 'gone', gone_at = now() WHERE id = $1", [jobId])
}

describe('booking in', () => {
  test('a new crank of a new customer gets a tag, its first step, its deposit and the first line of its history', async () => {
    const wanted = await bookingOf(it, {
      engineId: sheet.id,
      customer: { name: 'Hollis, A.', phone: '0161 496-0187', mail: 'a.hollis@mail.example' },
      whyNow: 'knock',
      hours: 61,
      hoursHow: 'metered',
      promisedOn: '2026-12-03',
      wantedOn: '2026-12-05',
      place: 'rack A',
      cameWith: [{ what: 'keys', count: 2 }, { what: 'cam gear' }],
      condition: ['box holed'],
      depositMinor: 10_000,
      depositHow: 'card',
      feeYesBy: 'A. Hollis',
      feeYesHow: 'by mail',
    })
    const answer = await counter.post('/api/jobs', wanted)
    expect(answer.status).toBe(201)
    const job = answer.body
    expect(parseTag(job.tag)).toMatchObject({ ok: true })
    expect(job).toMatchObject({
      state: 'booked',
      engine: 'Ruskhammar R449-4X',
      promisedOn: '2026-12-03',
      wantedOn: '2026-12-05',
      place: 'rack A',
      late: false,
      waiting: [],
      hours: 61,
      deposit: 10_000,
      cameWith: [{ what: 'keys', count: 2 }, { what: 'cam gear' }],
      customer: {
        name: 'Hollis, A.',
        phone: '0161 496-0187',
        hearBy: 'phone',
        cranksHere: 1,
        lastTag: job.tag,
        lastOn: '2026-11-24',
        owes: 0,
      },
      crank: { engineId: sheet.id, pressedBefore: 1, pressedHere: { left: 0, right: 0 }, earlier: [], welded: false },
      bookedAt: '2026-11-24T09:00:00.000Z',
      steps: [{ step: 'booked', at: '2026-11-24T09:00:00.000Z', by: 'Hana' }],
      payments: [{ amountMinor: 10_000, what: 'deposit', how: 'card', by: 'Hana' }],
      version: 1,
    })
    expect(answer.headers.etag).toBe('"1"')
    expect(job).not.toHaveProperty('owes')
    expect(await saysOf(job.id)).toEqual([
      'Booked in: Ruskhammar R449-4X, rebuild. Why now: knock; 61 h, metered. Seen on arrival: box holed.',
    ])
    const audit = await it.db.pool.query("SELECT action FROM audit_row WHERE entity_id = $1 OR action = 'add customer' ORDER BY seq", [
      job.id,
    ])
    expect(audit.rows.map((row) => row.action)).toEqual(['add customer', 'book in'])
  })

  test('only a name, a way to reach them and what they want are compulsory', async () => {
    const job = await bookJob(it, { customer: { name: 'Walk-in', address: 'Mill Lane 4\nKettle Row' } })
    expect(job).toMatchObject({ customer: { hearBy: 'post', address: 'Mill Lane 4\nKettle Row' }, hoursHow: 'unknown' })
    expect(job).not.toHaveProperty('promisedOn')
    expect(job).not.toHaveProperty('hours')
    expect(await saysOf(job.id)).toEqual([expect.stringContaining('hours not known.')])
  })

  test('the id and the time of the sender stand, and the server’s time stands beside it', async () => {
    const id = randomUUID()
    const wanted = await bookingOf(it, { engineId: sheet.id, id, occurredAt: '2026-11-24T08:05:00+00:00' })
    const job = (await counter.post('/api/jobs', wanted).expect(201)).body
    expect([job.id, job.bookedAt]).toEqual([id, '2026-11-24T08:05:00.000Z'])
    const [event] = (await counter.get(`/api/jobs/${id}/events`)).body.rows
    expect([event.occurredAt, event.recordedAt]).toEqual(['2026-11-24T08:05:00.000Z', '2026-11-24T09:00:00.000Z'])
    await counter.post('/api/jobs', wanted).expect(409)
  })

  test('a repeat with the same key books one crank', async () => {
    const wanted = await bookingOf(it, { engineId: sheet.id })
    const key = randomUUID()
    const first = await counter.post('/api/jobs', wanted, key).expect(201)
    const before = await rowsOf('job', 'crank', 'customer', 'job_event')
    const repeat = await counter.post('/api/jobs', wanted, key).expect(201)
    expect([repeat.body, repeat.headers.replayed]).toEqual([first.body, 'yes'])
    expect(await rowsOf('job', 'crank', 'customer', 'job_event')).toEqual(before)
    await counter.post('/api/jobs', { ...wanted, whyNow: 'rust' }, key).expect(422)
  })

  test('many at once get tags one after the other, without a double and without a gap', async () => {
    const wanted = await Promise.all(Array.from({ length: 12 }, () => bookingOf(it, { engineId: sheet.id })))
    const { last } = (await it.db.pool.query("SELECT last FROM counter WHERE name = 'tag'")).rows[0]
    const answers = await Promise.all(wanted.map((one) => counter.post('/api/jobs', one)))
    expect(answers.map((answer) => answer.status)).toEqual(answers.map(() => 201))
    const expected: string[] = []
    for (let number = nextTagNumber(last); expected.length < 12; number = nextTagNumber(number)) expected.push(tagOf(number)!)
    expect(answers.map((answer) => answer.body.tag).sort()).toEqual(expected.sort())
  })

  test('a booking that is refused half way leaves nothing, not even a used number', async () => {
    const tables = ['job', 'crank', 'customer', 'payment', 'job_event', 'audit_row']
    const taken = await bookJob(it, { engineId: sheet.id })
    const before = await rowsOf(...tables)
    await counter.post('/api/jobs', await bookingOf(it, { engineId: sheet.id, comebackOf: randomUUID() })).expect(400)
    // An id that is taken shows at the last moment, when the tag has been drawn.
    await counter
      .post('/api/jobs', await bookingOf(it, { engineId: sheet.id, id: taken.id, depositMinor: 5, depositHow: 'cash' }))
      .expect(409)
    expect(await rowsOf(...tables)).toEqual(before)
    const next = await bookJob(it, { engineId: sheet.id })
    expect(next.tag).toBe(tagOf(nextTagNumber(Number(taken.tag.split('-')[0]))))
  })

  test('throws away the draft of the one who booked, and nobody else’s', async () => {
    const other = await it.as('counter')
    await counter.put('/api/drafts/booking', { data: { name: 'half' } }).expect(200)
    await other.put('/api/drafts/booking', { data: { name: 'other half' } }).expect(200)
    await counter.put('/api/drafts/engine', { data: {} }).expect(200)
    await counter.post('/api/jobs', await bookingOf(it, { engineId: sheet.id })).expect(201)
    const draftOf = async (agent: typeof counter, form: string) => (await agent.get(`/api/drafts/${form}`).expect(200)).body.draft
    expect(await draftOf(counter, 'booking')).toBeNull()
    expect(await draftOf(counter, 'engine')).not.toBeNull()
    expect(await draftOf(other, 'booking')).not.toBeNull()
  })
})

describe('a crank that has been here', () => {
  test('comes again with its history; a new owner becomes its owner', async () => {
    const first = await bookJob(it, { engineId: sheet.id })
    await goneAt(first.id)
    const buyer = await addCustomer(it, { name: 'Oduya, T.' })
    const second = await bookJob(it, { crank: { id: first.crank.id }, customer: { id: buyer.id } })
    expect(second.crank).toMatchObject({ id: first.crank.id, earlier: [{ id: first.id, tag: first.tag, state: 'gone' }] })
    const [known] = (await counter.get(`/api/cranks?customerId=${buyer.id}`).expect(200)).body
    expect([known.id, known.whose]).toEqual([first.crank.id, 'Oduya, T.'])
    expect((await counter.get(`/api/jobs/${first.id}`)).body.customer.name).toBe(first.customer?.name)
  })

  test('cannot be booked in while it is in the house, not even by two at once', async () => {
    const first = await bookJob(it, { engineId: sheet.id })
    const again = await bookingOf(it, { crank: { id: first.crank.id } })
    const refused = await counter.post('/api/jobs', again)
    expect([refused.status, refused.body.detail]).toEqual([409, `This crank is in the house already, as ${first.tag}.`])
    await goneAt(first.id)
    const answers = await Promise.all([counter.post('/api/jobs', again), counter.post('/api/jobs', again)])
    expect(answers.map((answer) => answer.status).sort()).toEqual([201, 409])
  })

  test('comes back: the mark stands on the new job, and the earlier one says so', async () => {
    const first = await bookJob(it, { engineId: sheet.id })
    const customer = { id: first.customer!.id }
    const comeback = { crank: { id: first.crank.id }, customer, comebackOf: first.id, comebackWhy: 'noise at 41 h' }
    await goneAt(first.id)
    const other = await bookJob(it, { engineId: sheet.id })
    await goneAt(other.id)
    const elsewhere = await counter.post('/api/jobs', await bookingOf(it, { ...comeback, comebackOf: other.id }))
    expect(elsewhere.body.errors).toEqual([{ pointer: '/comebackOf', code: 'other-crank', detail: `${other.tag} was another crank.` }])
    const second = await bookJob(it, comeback)
    expect(second).toMatchObject({ comeback: true, comebackOf: { id: first.id, tag: first.tag }, comebackWhy: 'noise at 41 h' })
    expect(await saysOf(second.id)).toEqual([`It is a comeback of ${first.tag}.`, expect.stringContaining('Booked in')])
    expect((await saysOf(first.id))[0]).toBe(`It came back, as ${second.tag}.`)
  })
})

describe('refused', () => {
  const cases: [string, object, string, string][] = [
    ['a promise in the past', { promisedOn: '2025-12-03' }, '/promisedOn', 'past'],
    ['a day that does not exist', { promisedOn: '2026-02-30' }, '/promisedOn', 'invalid_format'],
    ['hours of which nobody knows how', { hours: 61, hoursHow: 'unknown' }, '/hoursHow', 'unknown-hours'],
    ['a deposit that was paid nohow', { depositMinor: 100 }, '/depositHow', 'missing'],
    ['a customer who is not in the book', { customer: { id: randomUUID() } }, '/customer/id', 'unknown'],
    ['an engine that is not in the book', { crank: { engineId: randomUUID() } }, '/crank/engineId', 'unknown'],
    ['a crank that is not in the book', { crank: { id: randomUUID() } }, '/crank/id', 'unknown'],
    ['a comeback of nothing', { comebackWhy: 'noise' }, '/comebackOf', 'missing'],
    ['a comeback of no job', { comebackOf: randomUUID() }, '/comebackOf', 'unknown'],
    ['a kind of work that we do not do', { kind: 'polish' }, '/kind', 'invalid_value'],
    ['a field that a booking does not have', { tag: '318-V' }, '', 'unrecognized_keys'],
  ]
  test.each(cases)('%s', async (_what, change, pointer, code) => {
    const answer = await counter.post('/api/jobs', { ...(await bookingOf(it, { engineId: sheet.id })), ...change })
    expect(answer.status).toBe(400)
    expect(answer.body.errors).toContainEqual(expect.objectContaining({ pointer, code }))
  })

  test('a comeback of a job that never went home', async () => {
    const first = await bookJob(it, { engineId: sheet.id })
    const answer = await counter.post('/api/jobs', await bookingOf(it, { engineId: sheet.id, comebackOf: first.id }))
    expect(answer.body.errors[0]).toMatchObject({ pointer: '/comebackOf', code: 'not-gone' })
  })

  test('a customer whom nothing reaches', async () => {
    const answer = await counter.post('/api/jobs', await bookingOf(it, { engineId: sheet.id, customer: { name: 'Nobody' } }))
    expect(answer.status).toBe(400)
    expect(answer.headers['content-type']).toContain('application/problem+json')
  })

  test('the bench, nobody at all, and a request without a key', async () => {
    const wanted = await bookingOf(it, { engineId: sheet.id })
    await bench.post('/api/jobs', wanted).expect(403)
    await it.nobody().post('/api/jobs', wanted).expect(401)
    await counter.post('/api/jobs', wanted).unset('idempotency-key').expect(400)
  })
})
