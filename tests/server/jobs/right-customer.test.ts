import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { startApp } from '#tests/support/app.ts'
import { addCustomer, addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const owner = await it.as('owner', { name: 'Ewa' })
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Jonas' })
const sheet = await addEngine(it)

const move = (job: Job, body: object, by = counter) =>
  by.post(`/api/jobs/${job.id}/customer`, { withCrank: true, reason: 'wrong Hollis chosen', ...body }).set('if-match', `"${job.version}"`)
const ownerOf = async (crankId: string) =>
  (await it.db.pool.query('SELECT customer_id FROM crank WHERE id = $1', [crankId])).rows[0].customer_id
const says = async (job: Job, by = counter) => (await by.get(`/api/jobs/${job.id}/events?limit=1`).expect(200)).body.rows[0].says
const wrong = () => addCustomer(it, { name: 'Hollis, B.' })
const right = () => addCustomer(it, { name: 'Hollis, A.' })

describe('a job on the wrong customer', () => {
  test('goes to the right one with its crank; the secret address made for the wrong one opens no more', async () => {
    const [from, to] = [await wrong(), await right()]
    const job = await bookJob(it, { engineId: sheet.id, customer: { id: from.id } })
    const { url } = (await counter.post(`/api/jobs/${job.id}/link`).expect(201)).body
    const page = `/api/public/crank/${url.split('/').at(-1)}`
    await it.nobody().get(page).expect(200)
    it.clock.pass(1)
    const answer = await move(job, { customerId: to.id }).expect(200)
    expect(answer.body).toMatchObject({ customer: { id: to.id, name: 'Hollis, A.' }, version: job.version + 1 })
    expect(await ownerOf(job.crank.id)).toBe(to.id)
    await it.nobody().get(page).expect(404)
    expect(await says(job, bench)).toBe('It was moved to its right customer. The secret address made before opens no more.')
    expect(await says(job)).toBe(
      'Moved from Hollis, B. to Hollis, A., the crank with it. Why: wrong Hollis chosen. The secret address made before opens no more.',
    )
    expect((await counter.get(`/api/customers/${from.id}`)).body.cranksHere).toBe(0)
    const [line] = (await owner.get(`/api/audit?thing=job&id=${job.id}`).expect(200)).body.rows
    expect(line).toMatchObject({
      action: 'move job',
      by: 'Hana',
      reason: 'wrong Hollis chosen',
      about: { thing: 'job', id: job.id, says: job.tag },
    })
    expect(line.changes).toContainEqual({ field: 'customerId', label: 'customer', before: 'Hollis, B.', after: 'Hollis, A.' })
  })

  test('or without it; the crank stays where it was and is listed with both', async () => {
    const [from, to] = [await wrong(), await right()]
    const job = await bookJob(it, { engineId: sheet.id, customer: { id: from.id } })
    await move(job, { customerId: to.id, withCrank: false }).expect(200)
    expect(await ownerOf(job.crank.id)).toBe(from.id)
    expect(await says(job)).toBe('Moved from Hollis, B. to Hollis, A., the crank stays where it was. Why: wrong Hollis chosen')
    for (const id of [from.id, to.id]) {
      const cranks = (await counter.get(`/api/cranks?customerId=${id}`).expect(200)).body as { id: string }[]
      expect(cranks.map((crank) => crank.id)).toEqual([job.crank.id])
    }
  })

  test('the crank alone may follow later', async () => {
    const [from, to] = [await wrong(), await right()]
    const job = await bookJob(it, { engineId: sheet.id, customer: { id: from.id } })
    const moved = (await move(job, { customerId: to.id, withCrank: false }).expect(200)).body as Job
    await move(moved, { customerId: to.id }).expect(200)
    expect(await ownerOf(job.crank.id)).toBe(to.id)
  })

  test('an entry that became another leads on to it', async () => {
    const [from, gone, stays] = [await wrong(), await right(), await right()]
    const job = await bookJob(it, { engineId: sheet.id, customer: { id: from.id } })
    await owner
      .post(`/api/customers/${stays.id}/merge`, { gone: gone.id, goneVersion: 1, reason: 'same' })
      .set('if-match', '"1"')
      .expect(200)
    expect((await move(job, { customerId: gone.id }).expect(200)).body.customer.id).toBe(stays.id)
  })
})

describe('what is refused', () => {
  test('a field missing, a stranger, the same customer, an older version, none at all', async () => {
    const [from, to] = [await wrong(), await right()]
    const job = await bookJob(it, { engineId: sheet.id, customer: { id: from.id } })
    for (const [body, pointer] of [
      [{ customerId: to.id, reason: ' ' }, '/reason'],
      [{ customerId: to.id, withCrank: undefined }, '/withCrank'],
      [{}, '/customerId'],
      [{ customerId: randomUUID() }, '/customerId'],
      [{ customerId: from.id }, '/customerId'],
    ] as const) {
      const answer = await move(job, body)
      expect([answer.status, answer.body.errors[0].pointer]).toEqual([400, pointer])
    }
    await counter.post(`/api/jobs/${job.id}/customer`, { customerId: to.id, withCrank: true, reason: 'a' }).expect(428)
    await counter.patch(`/api/jobs/${job.id}`, { oil: '1:40' }, job.version).expect(200)
    const stale = await move(job, { customerId: to.id })
    expect([stale.status, stale.body.version]).toEqual([412, job.version + 1])
  })

  test('not for the bench, not for nobody, not of a job that is not there', async () => {
    const job = await bookJob(it, { engineId: sheet.id })
    const { id } = await right()
    await move(job, { customerId: id }, bench).expect(403)
    await move(job, { customerId: id }, it.nobody()).expect(401)
    await move({ ...job, id: randomUUID() }, { customerId: id }).expect(404)
  })
})
