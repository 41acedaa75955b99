import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { Customer } from '#contract/customers.ts'
import { startApp } from '#tests/support/app.ts'
import { addCustomer, addEngine, bookingOf, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const owner = await it.as('owner', { name: 'Ewa' })
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Jonas' })
const sheet = await addEngine(it)

const merge = (stays: { id: string; version: number }, gone: { id: string; version: number }, more: object = {}) =>
  owner
    .post(`/api/customers/${stays.id}/merge`, { gone: gone.id, goneVersion: gone.version, reason: 'same number', ...more })
    .set('if-match', `"${stays.version}"`)
const read = async (id: string): Promise<Customer> => (await counter.get(`/api/customers/${id}`).expect(200)).body
const events = async (jobId: string, by = counter): Promise<string> =>
  (await by.get(`/api/jobs/${jobId}/events?limit=1`).expect(200)).body.rows[0].says

describe('two entries that are one customer', () => {
  test('cranks and jobs move, what differs goes into the note, the one that went leads on and is found no more', async () => {
    const stays = await addCustomer(it, { name: 'Qvist, B.', phone: '0161 496 0111', note: 'rings late' })
    const gone = await addCustomer(it, { name: 'Berta Qvist', phone: '0161 496 0222', mail: 'b.qvist@mail.example' })
    const kept = await bookJob(it, { engineId: sheet.id, customer: { id: stays.id } })
    const moved = await bookJob(it, { engineId: sheet.id, customer: { id: gone.id } })
    it.clock.pass(1)
    const answer = await merge(stays, gone).expect(200)
    expect(answer.body).toMatchObject({
      id: stays.id,
      name: 'Qvist, B.',
      phone: '0161 496 0111',
      mail: 'b.qvist@mail.example',
      note: 'rings late\nAlso known: as Berta Qvist; phone 0161 496 0222',
      cranksHere: 2,
      version: 2,
    })
    expect(answer.headers.etag).toBe('"2"')
    expect(await read(gone.id)).toEqual(answer.body)
    const job = (await counter.get(`/api/jobs/${moved.id}`).expect(200)).body
    expect([job.customer.id, job.version]).toEqual([stays.id, moved.version + 1])
    const cranks = (await counter.get(`/api/cranks?customerId=${stays.id}`).expect(200)).body as { id: string }[]
    expect(cranks.map((crank) => crank.id).sort()).toEqual([kept.crank.id, moved.crank.id].sort())
    const found = (await counter.get('/api/find?q=qvist').expect(200)).body.rows as { what: string; id: string }[]
    expect(found.filter((one) => one.what === 'customer').map((one) => one.id)).toEqual([stays.id])
    expect(((await counter.get('/api/customers?q=qvist').expect(200)).body.rows as Customer[]).map((row) => row.id)).toEqual([stays.id])
    // Two sentences: names for the counter alone.
    expect(await events(moved.id, bench)).toBe('Two entries of its customer were made one.')
    expect(await events(moved.id)).toBe('Berta Qvist and Qvist, B. are one customer; the entry Berta Qvist went. Why: same number')
    expect(await events(kept.id)).toContain('Booked in')
    const history = (await owner.get(`/api/audit?thing=customer&id=${stays.id}`).expect(200)).body.rows
    expect(history.map((line: { action: string }) => line.action)).toEqual([
      'merge customers',
      'merge customers',
      'add customer',
      'add customer',
    ])
    expect(history[0]).toMatchObject({
      reason: 'same number',
      changes: expect.arrayContaining([expect.objectContaining({ label: 'became one with', after: 'Qvist, B.' })]),
    })
  })

  test('a booking on the one that went is the other’s, and a change to it is refused', async () => {
    const [stays, gone] = [await addCustomer(it), await addCustomer(it)]
    await merge(stays, gone).expect(200)
    const job = await bookJob(it, { engineId: sheet.id, customer: { id: gone.id } })
    expect(job.customer?.id).toBe(stays.id)
    const change = await counter.patch(`/api/customers/${gone.id}`, { name: 'A' }, 2)
    expect([change.status, change.body.type]).toEqual([409, '/problems/conflict-state'])
  })

  test('one that took others in can go itself; all lead to the last', async () => {
    const [first, second, third] = [await addCustomer(it), await addCustomer(it), await addCustomer(it)]
    await merge(second, first).expect(200)
    await merge(third, await read(second.id)).expect(200)
    for (const id of [first.id, second.id, third.id]) expect((await read(id)).id).toBe(third.id)
  })

  test('a booking at the same moment ends on the one that stays', async () => {
    const [stays, gone] = [await addCustomer(it), await addCustomer(it)]
    const booking = await bookingOf(it, { engineId: sheet.id, customer: { id: gone.id } })
    const [merged, booked] = await Promise.all([merge(stays, gone), counter.post('/api/jobs', booking)])
    expect([merged.status, booked.status]).toEqual([200, 201])
    expect((await counter.get(`/api/jobs/${booked.body.id}`)).body.customer.id).toBe(stays.id)
  })
})

describe('what is refused', () => {
  test('itself, one that went, one that is not there, and a note that would grow too long', async () => {
    const [stays, gone] = [await addCustomer(it), await addCustomer(it)]
    const itself = await merge(stays, stays)
    expect([itself.status, itself.body.errors[0]]).toEqual([400, expect.objectContaining({ pointer: '/gone', code: 'same' })])
    const unknown = await merge(stays, { id: randomUUID(), version: 1 })
    expect([unknown.status, unknown.body.errors[0].code]).toEqual([400, 'unknown'])
    await merge({ id: randomUUID(), version: 1 }, gone).expect(404)
    await merge(stays, gone).expect(200)
    const again = await merge(await read(stays.id), { id: gone.id, version: 2 })
    expect([again.status, again.body.type]).toEqual([409, '/problems/conflict-state'])
    const into = await merge({ id: gone.id, version: 2 }, await addCustomer(it))
    expect(into.status).toBe(409)
    const [long, longer] = [await addCustomer(it, { note: 'a'.repeat(600) }), await addCustomer(it, { note: 'b'.repeat(600) })]
    const tooLong = await merge(long, longer)
    expect([tooLong.status, tooLong.body.detail]).toEqual([409, expect.stringContaining('1000 characters')])
    expect((await read(longer.id)).id).toBe(longer.id)
  })

  test('without a reason, without a version, over an older version of either', async () => {
    const [stays, gone] = [await addCustomer(it), await addCustomer(it)]
    for (const [more, pointer] of [
      [{ reason: ' ' }, '/reason'],
      [{ reason: undefined }, '/reason'],
      [{ gone: undefined }, '/gone'],
      [{ goneVersion: undefined }, '/goneVersion'],
    ] as const)
      expect((await merge(stays, gone, more)).body.errors[0].pointer).toBe(pointer)
    const wanted = { gone: gone.id, goneVersion: 1, reason: 'same' }
    await owner.post(`/api/customers/${stays.id}/merge`, wanted).expect(428)
    await counter.patch(`/api/customers/${gone.id}`, { note: 'new' }, 1).expect(200)
    const staleGone = await merge(stays, gone)
    expect([staleGone.status, staleGone.body.version]).toEqual([412, 2])
    await counter.patch(`/api/customers/${stays.id}`, { note: 'new' }, 1).expect(200)
    const staleStays = await merge(stays, { ...gone, version: 2 })
    expect([staleStays.status, staleStays.body.version]).toEqual([412, 2])
  })

  test('it is the owner’s', async () => {
    const { id } = await addCustomer(it)
    for (const agent of [counter, bench]) await agent.post(`/api/customers/${id}/merge`, {}).expect(403)
    await it.nobody().post(`/api/customers/${id}/merge`, {}).expect(401)
  })
})
