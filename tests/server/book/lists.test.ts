import { describe, expect, test } from 'vitest'
import type { JobRow } from '#contract/jobs.ts'
import { startApp } from '#tests/support/app.ts'
import { addCustomer, addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Marek' })
const sheet = await addEngine(it, { code: 'R449-4X' })
const customer = await addCustomer(it, { name: 'Hollis, A.' })

async function book(promisedOn?: string, more: object = {}) {
  return bookJob(it, { engineId: sheet.id, customer: { id: customer.id }, ...(promisedOn === undefined ? {} : { promisedOn }), ...more })
}

async function tags(list: string, agent = counter): Promise<string[]> {
  return ((await agent.get(`/api/jobs?list=${list}`).expect(200)).body.rows as JobRow[]).map((row) => row.tag)
}

/** Steps are another slice's; the book only reads where a job stands. */
async function standsAt(id: string, state: string) {
  await it.db.pool.query('UPDATE job SET state = $2 WHERE id = $1', [id, state])
}

describe('the book', () => {
  test('an empty book answers an empty list, no count and today in the shop’s zone', async () => {
    const answer = await counter.get('/api/jobs').expect(200)
    expect(answer.body).toEqual({
      rows: [],
      next: null,
      today: '2026-11-24',
      counts: { house: 0, late: 0, waitingKit: 0, waitingYes: 0, ready: 0 },
    })
  })
  test('x', async () => {
    const a = await book('2026-11-25')
    await book()
    await book('2026-11-24')
    console.log(await tags('house'), JSON.stringify((await counter.get('/api/jobs').expect(200)).body.rows[0]))
    for (const list of ['late','waiting-kit','waiting-yes','ready','bench','gone','all']) console.log(list, await tags(list), await tags(list, bench))
    console.log(JSON.stringify((await bench.get('/api/jobs/'+a.id)).body))
  })
})
