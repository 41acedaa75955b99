import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'

const it = await startApp()
const counter = await it.as('counter')
const bench = await it.as('bench')

function nested(depth: number): object {
  return depth === 0 ? {} : { in: nested(depth - 1) }
}

describe('a form left half way', () => {
  test('is kept for the one who fills it in, over itself, until it is thrown away', async () => {
    expect((await counter.get('/api/drafts/booking').expect(200)).body).toEqual({ draft: null })
    await counter.put('/api/drafts/booking', { data: { name: 'Hol' } }).expect(200)
    it.clock.pass(1)
    const kept = await counter.put('/api/drafts/booking', { data: { name: 'Hollis, A.', crank: { hours: null, list: [1, 'ł', true] } } })
    expect(kept.status).toBe(200)
    expect(kept.body.changedAt).toBe('2026-11-24T09:01:00.000Z')
    expect((await counter.get('/api/drafts/booking').expect(200)).body).toEqual({ draft: kept.body })
    const other = await it.as('counter')
    expect((await other.get('/api/drafts/booking').expect(200)).body).toEqual({ draft: null })
    await other.delete('/api/drafts/booking').expect(204)
    await counter.get('/api/drafts/booking').expect(200)
    await counter.delete('/api/drafts/booking').expect(204)
    expect((await counter.get('/api/drafts/booking').expect(200)).body).toEqual({ draft: null })
  })

  test('is no part of the record: the audit chain does not grow', async () => {
    const count = async () => (await it.db.pool.query('SELECT count(*) FROM audit_row')).rows[0].count
    const before = await count()
    await counter.put('/api/drafts/engine', { data: { maker: 'T' } }).expect(200)
    await counter.delete('/api/drafts/engine').expect(204)
    expect(await count()).toBe(before)
  })

  test.each([
    ['no data', {}],
    ['a list', { data: [] }],
    ['a character that cannot be kept', { data: { a: ['x', { b: 'a\u0000b' }] } }],
    ['half a letter', { data: { a: '\ud800' } }],
    ['such a character in a name', { data: { 'a\u0000': 1 } }],
    ['nested without end', { data: nested(500) }],
  ])('%s is refused', async (_what, body) => {
    const answer = await counter.put('/api/drafts/booking', body)
    expect([answer.status, answer.body.type]).toEqual([400, '/problems/validation'])
  })

  test('twenty deep is kept, and more than the book takes at once is refused', async () => {
    await counter.put('/api/drafts/booking', { data: nested(20) }).expect(200)
    await counter.put('/api/drafts/booking', { data: { note: 'a'.repeat(257 * 1024) } }).expect(413)
  })

  test('only of forms that there are, and for the counter', async () => {
    await counter.get('/api/drafts/secrets').expect(400)
    await bench.get('/api/drafts/booking').expect(403)
    await bench.put('/api/drafts/booking', { data: {} }).expect(403)
    await bench.delete('/api/drafts/booking').expect(403)
    await it.nobody().get('/api/drafts/booking').expect(401)
  })
})
