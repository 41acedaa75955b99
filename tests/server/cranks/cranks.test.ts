import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { addCustomer, addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter')
const bench = await it.as('bench')
const sheet = await addEngine(it, { code: 'R449-4X' })
const hollis = await addCustomer(it, { name: 'Hollis, A.' })

describe('a crank is recognised', () => {
  test('by its number however it is written, with the jobs it was here for, newest first', async () => {
    const first = await bookJob(it, { customer: { id: hollis.id }, crank: { engineId: sheet.id, engineNumber: 'R4-20718', welded: true } })
    await it.db.pool.query("UPDATE job SET state = 'gone' WHERE id = $1", [first.id])
    const second = await bookJob(it, { customer: { id: hollis.id }, crank: { id: first.crank.id } })
    for (const number of ['R4-20718', 'r420718', 'R4 20718', '20718']) {
      const answer = await counter.get(`/api/cranks?number=${encodeURIComponent(number)}`).expect(200)
      expect(answer.body).toEqual([
        {
          id: first.crank.id,
          engineId: sheet.id,
          engine: 'Ruskhammar R449-4X',
          engineNumber: 'R4-20718',
          customerId: hollis.id,
          whose: 'Hollis, A.',
          welded: true,
          jobs: [
            { id: second.id, tag: second.tag, bookedAt: '2026-11-24T09:00:00.000Z', state: 'booked' },
            { id: first.id, tag: first.tag, bookedAt: '2026-11-24T09:00:00.000Z', state: 'gone' },
          ],
        },
      ])
    }
  })

  test('with the kit that went in last time, and its sheet', async () => {
    const job = await bookJob(it, { crank: { engineId: sheet.id, engineNumber: 'K-77' } })
    await it.db.pool.query(
      `WITH m AS (INSERT INTO kit_model (id, maker, part) VALUES (gen_random_uuid(), 'Ardenlow', 'R449-4X K1') RETURNING id),
            l AS (INSERT INTO kit_lot (id, kit_model_id, lot) SELECT gen_random_uuid(), id, 'A-2417' FROM m RETURNING id)
       INSERT INTO kit_fitted (id, job_id, kit_lot_id, whose, person_id, at) SELECT gen_random_uuid(), $1, id, 'ours', $2, now() FROM l`,
      [job.id, counter.person.id],
    )
    const [hit] = (await counter.get('/api/cranks?number=k77').expect(200)).body
    expect(hit.jobs[0].kit).toBe('Ardenlow R449-4X K1, lot A-2417')
  })

  test('the number itself stands before those that hold it', async () => {
    await bookJob(it, { crank: { engineId: sheet.id, engineNumber: '555-1' } })
    const exact = await bookJob(it, { crank: { engineId: sheet.id, engineNumber: '5551' } })
    await bookJob(it, { crank: { engineId: sheet.id, engineNumber: '5551-77' } })
    const found = (await counter.get('/api/cranks?number=5551').expect(200)).body.map((hit: { engineNumber: string }) => hit.engineNumber)
    expect(found).toHaveLength(3)
    expect(found.slice(0, 2).sort()).toEqual(['555-1', '5551'])
    expect(found[2]).toBe('5551-77')
    expect(exact.crank.engineNumber).toBe('5551')
  })

  test('by its owner, and by both together', async () => {
    const other = await addCustomer(it, { name: 'Oduya, T.' })
    const theirs = await bookJob(it, { customer: { id: other.id }, crank: { engineId: sheet.id } })
    const ids = async (query: string) => (await counter.get(`/api/cranks?${query}`).expect(200)).body.map((hit: { id: string }) => hit.id)
    expect(await ids(`customerId=${other.id}`)).toEqual([theirs.crank.id])
    expect(await ids(`customerId=${other.id}&number=20718`)).toEqual([])
    expect(await ids(`customerId=${randomUUID()}`)).toEqual([])
    expect(await ids('')).toEqual([])
    expect(await ids('number=')).toEqual([])
  })

  test('by the counter, not by the bench', async () => {
    await bench.get('/api/cranks?number=1').expect(403)
    await it.nobody().get('/api/cranks?number=1').expect(401)
    await counter.get('/api/cranks?customerId=318').expect(400)
  })
})
