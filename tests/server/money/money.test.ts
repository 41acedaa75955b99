import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Marek' })
const owner = await it.as('owner', { name: 'Ewa' })
const sheet = await addEngine(it)
const book = (more: object = {}) => bookJob(it, { engineId: sheet.id, ...more })

async function quote(jobId: string, totalMinor: number, text = 'rebuild with kit') {
  return counter.post(`/api/jobs/${jobId}/quotes`, { totalMinor, text })
}

async function says(jobId: string, who = counter): Promise<string> {
  return (await who.get(`/api/jobs/${jobId}/events?limit=1`)).body.rows[0].says
}

describe('quotes', () => {
  test('contain the tax of the shop, and the job then waits for a yes', async () => {
    const job = await book()
    const answer = await quote(job.id, 26_800)
    expect(answer.status).toBe(201)
    // 268.00 with 20 % in it: 268 × 0.2 ÷ 1.2 = 44.67.
    expect(answer.body.quotes).toEqual([
      {
        id: expect.any(String),
        version: 1,
        totalMinor: 26_800,
        taxMinor: 4467,
        text: 'rebuild with kit',
        madeBy: 'Hana',
        madeAt: '2026-11-24T09:00:00.000Z',
      },
    ])
    expect(answer.body.waiting).toEqual([{ what: 'yes', since: '2026-11-24T09:00:00.000Z' }])
    expect(answer.body).not.toHaveProperty('owes')
    expect(await says(job.id)).toBe('Quote 1: 268.00 EUR. It waits for a yes.')
    expect(await says(job.id, bench)).toBe('Quote 1 was made; it waits for a yes.')
  })

  test('replace the one before; what was agreed stands until there is a yes to the new one', async () => {
    const job = await book()
    await quote(job.id, 20_000)
    await counter.post(`/api/jobs/${job.id}/yes`, { quoteVersion: 1, by: 'A', how: 'by phone' }).expect(201)
    const second = await quote(job.id, 30_000, 'and new bearings')
    expect(second.body.quotes.map((one: { version: number }) => one.version)).toEqual([2, 1])
    expect(second.body).toMatchObject({ owes: 20_000, waiting: [{ what: 'yes' }] })
    const [row] = (await counter.get('/api/jobs?list=waiting-yes')).body.rows.filter((one: { id: string }) => one.id === job.id)
    expect(row).toMatchObject({ owes: 20_000, asked: 30_000, askedOn: '2026-11-24T09:00:00.000Z' })
  })

  test('two at once are two versions', async () => {
    const job = await book()
    const answers = await Promise.all([quote(job.id, 100), quote(job.id, 200)])
    expect(answers.map((answer) => answer.status)).toEqual([201, 201])
    expect((await counter.get(`/api/jobs/${job.id}`)).body.quotes.map((one: { version: number }) => one.version)).toEqual([2, 1])
  })

  test('have a total and words, are the counter’s, and come to an end when the crank is gone', async () => {
    const job = await book()
    await counter.post(`/api/jobs/${job.id}/quotes`, { totalMinor: 0, text: 'a' }).expect(400)
    await counter.post(`/api/jobs/${job.id}/quotes`, { totalMinor: 1.5, text: 'a' }).expect(400)
    await counter.post(`/api/jobs/${job.id}/quotes`, { totalMinor: 100 }).expect(400)
    await counter.post(`/api/jobs/${job.id}/quotes`, { totalMinor: 100, text: 'a', taxMinor: 0 }).expect(400)
    await bench.post(`/api/jobs/${job.id}/quotes`, { totalMinor: 100, text: 'a' }).expect(403)
    await it.nobody().post(`/api/jobs/${job.id}/quotes`, { totalMinor: 100, text: 'a' }).expect(401)
    expect((await quote(randomUUID(), 100)).status).toBe(404)
    await it.db.pool.query("UPDATE job SET state = 'gone' WHERE id = $1", [job.id])
    expect((await quote(job.id, 100)).status).toBe(409)
  })
})

describe('the yes', () => {
  test('is to the last quote, by whom and how; the job waits for it no more', async () => {
    const job = await book()
    await quote(job.id, 20_000)
    await quote(job.id, 26_800)
    const stale = await counter.post(`/api/jobs/${job.id}/yes`, { quoteVersion: 1, by: 'A. Hollis', how: 'by text' })
    expect([stale.status, stale.body.detail]).toEqual([409, 'Quote 2 stands now, not quote 1. Ask again with that one.'])
    const answer = await counter.post(`/api/jobs/${job.id}/yes`, {
      quoteVersion: 2,
      by: 'A. Hollis',
      how: 'by text',
      occurredAt: '2026-11-24T08:55:00Z',
    })
    expect(answer.status).toBe(201)
    expect(answer.body).toMatchObject({ owes: 26_800, waiting: [] })
    expect(answer.body.quotes[0].yes).toEqual({ by: 'A. Hollis', how: 'by text', at: '2026-11-24T08:55:00.000Z', enteredBy: 'Hana' })
    expect(await says(job.id)).toBe('The yes to quote 2, 268.00 EUR, came by text.')
    expect(await says(job.id, bench)).toBe('The yes to quote 2 came, by text.')
    const again = await counter.post(`/api/jobs/${job.id}/yes`, { quoteVersion: 2, by: 'B', how: 'by mail' })
    expect([again.status, again.body.detail]).toEqual([409, 'There is a yes to quote 2 already.'])
  })

  test('one of two at once counts', async () => {
    const job = await book()
    await quote(job.id, 100)
    const answers = await Promise.all(
      ['A', 'B'].map((by) => counter.post(`/api/jobs/${job.id}/yes`, { quoteVersion: 1, by, how: 'by phone' })),
    )
    expect(answers.map((answer) => answer.status).sort()).toEqual([201, 409])
  })

  test('to nothing, from nobody, out of shape, from the bench', async () => {
    const job = await book()
    const wanted = { quoteVersion: 1, by: 'A', how: 'by phone' }
    expect((await counter.post(`/api/jobs/${job.id}/yes`, wanted)).body.detail).toBe(`There is no quote for ${job.tag} yet to say yes to.`)
    await counter.post(`/api/jobs/${job.id}/yes`, { ...wanted, by: ' ' }).expect(400)
    await counter.post(`/api/jobs/${job.id}/yes`, { ...wanted, how: 'in a dream' }).expect(400)
    await bench.post(`/api/jobs/${job.id}/yes`, wanted).expect(403)
    await it.nobody().post(`/api/jobs/${job.id}/yes`, wanted).expect(401)
    await counter.post(`/api/jobs/${randomUUID()}/yes`, wanted).expect(404)
  })
})

describe('payments', () => {
  const pay = (jobId: string, amountMinor: number, what = 'payment', more: object = {}) =>
    counter.post(`/api/jobs/${jobId}/payments`, { amountMinor, what, how: 'cash', ...more })

  test('are taken and given back, and add up', async () => {
    const job = await book({ depositMinor: 10_000, depositHow: 'card' })
    await quote(job.id, 26_800)
    await counter.post(`/api/jobs/${job.id}/yes`, { quoteVersion: 1, by: 'A', how: 'by phone' }).expect(201)
    const paid = await pay(job.id, 16_800, 'payment', { note: 'in small notes' })
    expect(paid.status).toBe(201)
    expect(paid.body).toMatchObject({
      owes: 0,
      deposit: 10_000,
      payments: [{ what: 'deposit' }, { what: 'payment', note: 'in small notes', by: 'Hana' }],
    })
    expect(await says(job.id)).toBe('Money was taken: 168.00 EUR, cash.')
    expect(await says(job.id, bench)).toBe('Money was taken.')
    const back = await pay(job.id, 800, 'back')
    expect(back.body).toMatchObject({ owes: 800, deposit: 9200 })
    const much = await pay(job.id, 26_001, 'back')
    expect(much.body.errors).toEqual([{ pointer: '/amountMinor', code: 'more-than-taken', detail: 'No more than 260.00 EUR was taken.' }])
    await pay(job.id, 26_000, 'back').expect(201)
  })

  test('the same money is taken once, whatever the line does', async () => {
    const job = await book()
    const key = randomUUID()
    const send = () => counter.post(`/api/jobs/${job.id}/payments`, { amountMinor: 500, what: 'payment', how: 'card' }, key)
    const answers = await Promise.all([send(), send(), send()])
    expect(answers.some((answer) => answer.status === 201)).toBe(true)
    expect((await send()).status).toBe(201)
    expect((await counter.get(`/api/jobs/${job.id}`)).body.payments).toHaveLength(1)
  })

  test('cannot be changed or taken out of the book', async () => {
    await expect(it.db.pool.query('UPDATE payment SET amount_minor = 1')).rejects.toThrow(/permission denied/)
    await expect(it.db.pool.query('DELETE FROM payment')).rejects.toThrow(/permission denied/)
  })

  test('out of shape, from the bench, of no job', async () => {
    const job = await book()
    for (const amount of [0, -5, 1.5, 1_000_000_001]) expect((await pay(job.id, amount)).status).toBe(400)
    expect((await pay(job.id, 5, 'gift')).status).toBe(400)
    await bench.post(`/api/jobs/${job.id}/payments`, { amountMinor: 5, what: 'payment', how: 'cash' }).expect(403)
    await it.nobody().post(`/api/jobs/${job.id}/payments`, { amountMinor: 5, what: 'payment', how: 'cash' }).expect(401)
    expect((await pay(randomUUID(), 5)).status).toBe(404)
  })
})

describe('the box', () => {
  const KEYS = { what: 'keys', came: 2, back: 2 }

  test('is checked against what came in, first over version 0, then over the one that stands', async () => {
    const job = await book({ cameWith: [{ what: 'keys', count: 2 }, { what: 'mains on' }] })
    const mains = { what: 'mains on', came: 1, back: 0, why: 'worn out' }
    const address = `/api/jobs/${job.id}/box`
    await counter.put(address, { items: [KEYS, mains] }).expect(428)
    await counter.put(address, { items: [KEYS, mains] }, 1).expect(412)
    const first = await counter.put(address, { items: [KEYS, mains], carrier: 'Parcel line', carrierNo: '00340', grams: 5200 }, 0)
    expect(first.status).toBe(200)
    expect(first.body).toEqual({
      items: [KEYS, mains],
      carrier: 'Parcel line',
      carrierNo: '00340',
      grams: 5200,
      checkedBy: 'Hana',
      checkedAt: '2026-11-24T09:00:00.000Z',
      version: 1,
    })
    expect(first.headers.etag).toBe('"1"')
    expect(await says(job.id, bench)).toBe('The box was checked. Not all goes back: mains on.')
    await counter.put(address, { items: [KEYS, mains] }, 0).expect(412)
    const second = await counter.put(address, { items: [KEYS, { ...mains, back: 1 }] }, 1).expect(200)
    expect(second.body).not.toHaveProperty('carrier')
    expect((await counter.get(`/api/jobs/${job.id}`)).body.box).toEqual(second.body)
    expect(await says(job.id)).toBe('The box was checked. All that came in goes back.')
  })

  test('a list that lacks something names it', async () => {
    const job = await book({ cameWith: [{ what: 'keys', count: 2 }, { what: 'nut' }] })
    const answer = await counter.put(`/api/jobs/${job.id}/box`, { items: [{ what: 'keys', came: 1, back: 2 }] }, 0)
    expect(answer.status).toBe(400)
    expect(answer.body.errors.map((error: { pointer: string; code: string }) => [error.pointer, error.code])).toEqual([
      ['/items/0/came', 'other-count'],
      ['/items/0/back', 'more-than-came'],
      ['/items', 'left-out'],
    ])
  })

  test('the owner’s word is the owner’s alone; the counter, changing the list, leaves it', async () => {
    const job = await book()
    const address = `/api/jobs/${job.id}/box`
    const refused = await counter.put(address, { items: [], ownersWord: 'he pays on Friday' }, 0)
    expect([refused.status, refused.body.type]).toEqual([403, '/problems/forbidden'])
    const word = await owner.put(address, { items: [], ownersWord: 'he pays on Friday' }, 0).expect(200)
    expect(word.body.ownersWord).toBe('he pays on Friday')
    const kept = await counter.put(address, { items: [], grams: 4000 }, 1).expect(200)
    expect(kept.body).toMatchObject({ ownersWord: 'he pays on Friday', grams: 4000, checkedBy: 'Hana' })
    await counter.put(address, { items: [], ownersWord: 'he pays on Friday' }, 2).expect(200)
    await counter.put(address, { items: [], ownersWord: 'he pays some day' }, 3).expect(403)
    const by = await it.db.pool.query('SELECT owners_word_by FROM box WHERE job_id = $1', [job.id])
    expect(by.rows[0].owners_word_by).toBe(owner.person.id)
    const gone = await owner.put(address, { items: [] }, 3).expect(200)
    expect(gone.body).not.toHaveProperty('ownersWord')
  })

  test('not for the bench, not once it is gone, not of no job', async () => {
    const job = await book()
    await bench.put(`/api/jobs/${job.id}/box`, { items: [] }, 0).expect(403)
    await it.nobody().put(`/api/jobs/${job.id}/box`, { items: [] }, 0).expect(401)
    await counter.put(`/api/jobs/${randomUUID()}/box`, { items: [] }, 0).expect(404)
    await counter.put(`/api/jobs/${job.id}/box`, { items: [{ what: 'keys' }] }, 0).expect(400)
    await it.db.pool.query("UPDATE job SET state = 'gone' WHERE id = $1", [job.id])
    await counter.put(`/api/jobs/${job.id}/box`, { items: [] }, 0).expect(409)
  })
})
