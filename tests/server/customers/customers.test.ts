import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { Customer } from '#contract/customers.ts'
import { startApp } from '#tests/support/app.ts'
import { addCustomer, addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench')

async function namesFor(q: string): Promise<string[]> {
  const answer = await counter.get(`/api/customers?q=${encodeURIComponent(q)}`).expect(200)
  return (answer.body.rows as Customer[]).map((row) => row.name)
}

describe('adding and reading', () => {
  test('keeps name and phone as they are typed', async () => {
    const typed = { name: 'Łucja Szőke-Groß', phone: '+44 (0)161 / 496-0187', mail: 'l.szoke@mail.example', note: 'rings back after six' }
    const answer = await counter.post('/api/customers', typed)
    expect(answer.status).toBe(201)
    expect(answer.body).toEqual({ ...typed, id: expect.any(String), hearBy: 'phone', cranksHere: 0, owes: 0, version: 1 })
    expect((await counter.get(`/api/customers/${answer.body.id}`).expect(200)).body).toEqual(answer.body)
  })

  test('wants to hear by the way they gave, unless they say another', async () => {
    const add = async (ways: object) => (await counter.post('/api/customers', { name: 'Somebody', ...ways }).expect(201)).body.hearBy
    expect(await add({ mail: 'a@mail.example' })).toBe('mail')
    expect(await add({ address: 'Mill Lane 4' })).toBe('post')
    expect(await add({ phone: '1', mail: 'a@mail.example', hearBy: 'text' })).toBe('text')
  })

  test.each([
    [{ name: 'Nobody' }, '/phone'],
    [{ name: '  ', phone: '1' }, '/name'],
    [{ phone: '1' }, '/name'],
    [{ name: 'A', mail: 'not an address' }, '/mail'],
    [{ name: 'A', address: ' ' }, '/phone'],
    [{ name: 'a\u0000b', phone: '1' }, '/name'],
    [{ name: 'A', phone: '1', owes: 5 }, ''],
  ])('%o is refused', async (wanted, pointer) => {
    const answer = await counter.post('/api/customers', wanted)
    expect([answer.status, answer.body.errors[0].pointer]).toEqual([400, pointer])
  })

  test('the bench sees no customers, nobody sees them without sign-in, and a stranger is not there', async () => {
    const { id } = await addCustomer(it)
    await bench.get('/api/customers').expect(403)
    await bench.get(`/api/customers/${id}`).expect(403)
    await bench.post('/api/customers', { name: 'A', phone: '1' }).expect(403)
    await it.nobody().get(`/api/customers/${id}`).expect(401)
    await counter.get(`/api/customers/${randomUUID()}`).expect(404)
    await counter.get('/api/customers/not-an-id').expect(400)
  })
})

describe('changing', () => {
  test('what is sent changes, null takes away, and they are found by the new name', async () => {
    const customer = await addCustomer(it, { name: 'Vorher', mail: 'v@mail.example', note: 'old' })
    const answer = await counter.patch(`/api/customers/${customer.id}`, { name: 'Nachher', mail: null, note: null }, 1).expect(200)
    expect(answer.body).toMatchObject({ name: 'Nachher', phone: '0161 496 0100', version: 2 })
    expect(answer.body).not.toHaveProperty('mail')
    expect(answer.body).not.toHaveProperty('note')
    expect(await namesFor('nachher')).toEqual(['Nachher'])
    expect(await namesFor('vorher')).toEqual([])
  })

  test('leaves one way to reach them, and is made on the version that stands', async () => {
    const customer = await addCustomer(it)
    const refused = await counter.patch(`/api/customers/${customer.id}`, { phone: null }, 1)
    expect([refused.status, refused.body.errors[0].code]).toEqual([400, 'unreachable'])
    await counter.patch(`/api/customers/${customer.id}`, { name: 'A' }).expect(428)
    await counter.patch(`/api/customers/${customer.id}`, { name: 'A' }, 1).expect(200)
    const stale = await counter.patch(`/api/customers/${customer.id}`, { name: 'B' }, 1)
    expect([stale.status, stale.body.version]).toEqual([412, 2])
    await bench.patch(`/api/customers/${customer.id}`, { name: 'A' }, 2).expect(403)
    await counter.patch(`/api/customers/${randomUUID()}`, { name: 'A' }, 1).expect(404)
  })
})

describe('the list', () => {
  test('finds by parts of name, phone and mail; diacritics, capitals and how a phone is grouped do not matter', async () => {
    await addCustomer(it, { name: 'Żółkiewski, Ł.', phone: '+48 (0)22 333-44 55', mail: 'Lukasz.Z@Mail.example' })
    await addCustomer(it, { name: 'Ångström Racing', phone: '08 123 45 67' })
    for (const q of ['zolkiewski', 'ŻÓŁKIEWSKI', 'l zolk', '22 3334455', '022-333', '3344', 'lukasz.z@mail'])
      expect([q, await namesFor(q)]).toEqual([q, ['Żółkiewski, Ł.']])
    expect(await namesFor('angstrom racing')).toEqual(['Ångström Racing'])
    expect(await namesFor('angstrom 0812345')).toEqual(['Ångström Racing'])
    expect(await namesFor('angstrom zolkiewski')).toEqual([])
    expect(await namesFor('7%7')).toEqual([])
  })

  test('runs by name whatever the capitals and marks, page by page, each once', async () => {
    const names = ['Éclair', 'de Vries', 'Zander', 'Öz', 'adams', 'Baker', 'Baker']
    for (const name of names) await addCustomer(it, { name: `qq ${name}` })
    const seen: string[] = []
    let next: string | null = null
    do {
      const page: { rows: Customer[]; next: string | null } = (
        await counter.get(`/api/customers?q=qq&limit=2${next === null ? '' : `&after=${next}`}`).expect(200)
      ).body
      seen.push(...page.rows.map((row) => row.name.slice(3)))
      next = page.next
    } while (next !== null)
    expect(seen).toEqual(['adams', 'Baker', 'Baker', 'de Vries', 'Éclair', 'Öz', 'Zander'])
  })

  test.each(['after=abc', 'after=1', 'limit=0', 'limit=201', 'limit=x', 'page=2', 'q=a&q=b', 'q=%00'])('?%s is refused', async (query) => {
    const answer = await counter.get(`/api/customers?${query}`)
    expect([answer.status, answer.headers['content-type']]).toEqual([400, 'application/problem+json; charset=utf-8'])
  })

  test('counts their cranks and adds up what they owe over all of them', async () => {
    const customer = await addCustomer(it, { name: 'Quillfen Racing' })
    const sheet = await addEngine(it)
    const book = () => bookJob(it, { engineId: sheet.id, customer: { id: customer.id } })
    const agreed = async (jobId: string, totalMinor: number) => {
      const quoted = await counter.post(`/api/jobs/${jobId}/quotes`, { totalMinor, text: 'rebuild' }).expect(201)
      await counter.post(`/api/jobs/${jobId}/yes`, { quoteVersion: quoted.body.quotes[0].version, by: 'Q', how: 'by phone' }).expect(201)
    }
    const [first, second, third] = [await book(), await book(), await book()]
    await agreed(first.id, 26_800)
    await counter.post(`/api/jobs/${first.id}/payments`, { amountMinor: 30_000, what: 'payment', how: 'cash' }).expect(201)
    await agreed(second.id, 15_000)
    await counter.post(`/api/jobs/${second.id}/payments`, { amountMinor: 5000, what: 'deposit', how: 'card' }).expect(201)
    await counter.post(`/api/jobs/${third.id}/quotes`, { totalMinor: 9900, text: 'not agreed yet' }).expect(201)
    const read = (await counter.get(`/api/customers/${customer.id}`)).body
    // Too much paid on one crank does not pay another.
    expect(read).toMatchObject({ cranksHere: 3, lastTag: third.tag, lastOn: '2026-11-24', owes: 10_000 })
    expect((await counter.get(`/api/jobs/${second.id}`)).body.owes).toBe(10_000)
  })
})
