import { parse } from 'csv-parse/sync'
import { describe, expect, test } from 'vitest'
import type { CertificateMadeWith, InstrumentCheckNew, MadeWith } from '#contract/instrument-checks.ts'
import type { Instrument } from '#contract/instruments.ts'
import { startApp } from '#tests/support/app.ts'
import { codesOf, handsOf, secondReading, truedRebuild } from '#tests/support/bench-factories.ts'

const it = await startApp()
const h = await handsOf(it)
let names = 0

async function add(more: object = {}): Promise<Instrument> {
  names++
  const body = { name: `micrometer ${names}`, kind: 'micrometer', stepMm: 0.001, checkedOn: '2026-10-14', dueOn: '2027-02-14', ...more }
  return (await h.bench.post('/api/instruments', body).expect(201)).body
}

async function found(id: string, check: InstrumentCheckNew): Promise<Instrument> {
  it.clock.pass(1)
  return (await h.bench.post(`/api/instruments/${id}/checks`, check).expect(201)).body
}

const madeWith = async (id: string, query = '') =>
  (await h.counter.get(`/api/instruments/${id}/certificates${query}`).expect(200)).body as MadeWith
const numbersOf = ({ rows }: MadeWith) => rows.map((row) => row.number)

describe('an instrument', () => {
  test('that holds its zero says when; one that does not is in doubt until a check finds it good', async () => {
    const one = await add()
    expect(one.zeroedAt).toBeUndefined()
    const zeroed = await found(one.id, { kind: 'zero', held: true, offMm: 0 })
    expect(zeroed).toMatchObject({ zeroedAt: it.clock.now.toISOString(), version: 1 })
    expect(zeroed.doubt).toBeUndefined()
    const off = await found(one.id, { kind: 'zero', held: false, offMm: 0.004, note: 'reads high on its rod' })
    expect(off.doubt).toEqual({ fault: expect.any(String), kind: 'zero', since: it.clock.now.toISOString() })
    // A zero that holds again says nothing of the readings in between.
    expect((await found(one.id, { kind: 'zero', held: true })).doubt).toEqual(off.doubt)
    expect((await found(one.id, { kind: 'check', held: false, offMm: 0.004 })).doubt).toEqual(off.doubt)
    const good = await found(one.id, { kind: 'check', held: true, dueOn: '2027-03-24' })
    expect(good.doubt).toBeUndefined()
    expect(good).toMatchObject({ checkedOn: '2026-11-24', dueOn: '2027-03-24', version: 2 })
    const page = (await h.counter.get(`/api/instruments/${one.id}`).expect(200)).body
    expect(page.instrument).toEqual(good)
    expect(page.checks.map((check: { kind: string; held: boolean }) => `${check.kind} ${check.held}`)).toEqual([
      'check true',
      'check false',
      'zero true',
      'zero false',
      'zero true',
      'check true',
    ])
    expect(page.checks[3]).toMatchObject({ offMm: 0.004, note: 'reads high on its rod', by: 'Jonas' })
  })

  test('that fell is in doubt, and the check in the register lifts it too', async () => {
    const one = await add()
    expect((await found(one.id, { kind: 'dropped', note: 'off the bench' })).doubt?.kind).toBe('dropped')
    // A check of a day before the fall does not.
    const earlier = await h.bench.patch(`/api/instruments/${one.id}`, { checkedOn: '2026-11-20' }, 1).expect(200)
    expect(earlier.body.doubt?.kind).toBe('dropped')
    it.clock.pass(1)
    const today = await h.bench.patch(`/api/instruments/${one.id}`, { checkedOn: '2026-11-24' }, 2).expect(200)
    expect(today.body.doubt).toBeUndefined()
  })

  test('keeps its note, and gives it up', async () => {
    const one = await add({ note: 'sticks below 5 mm' })
    expect(one.note).toBe('sticks below 5 mm')
    const without = await h.bench.patch(`/api/instruments/${one.id}`, { note: null }, 1).expect(200)
    expect('note' in without.body).toBe(false)
  })

  test.each([
    ['a fall that held', { kind: 'dropped', held: true }, '/held'],
    ['a zero that says nothing', { kind: 'zero' }, '/held'],
    ['a check without its answer', { kind: 'check' }, '/held'],
    ['a due day after a bad check', { kind: 'check', held: false, dueOn: '2027-03-24' }, '/dueOn'],
    ['a due day before the check', { kind: 'check', held: true, dueOn: '2026-11-01' }, '/dueOn'],
    ['no kind', { held: true }, '/kind'],
    ['a figure beyond belief', { kind: 'zero', held: false, offMm: 11 }, '/offMm'],
  ])('refuses %s', async (_name, body, pointer) => {
    const one = await add()
    const refused = await h.bench.post(`/api/instruments/${one.id}/checks`, body).expect(400)
    expect(refused.body.errors[0].pointer).toBe(pointer)
  })

  test('is checked by the bench alone; what is used no more is not checked; what is written stays', async () => {
    const one = await add()
    const address = `/api/instruments/${one.id}/checks`
    await h.counter.post(address, { kind: 'zero', held: true }).expect(403)
    await it.nobody().post(address, { kind: 'zero', held: true }).expect(401)
    for (const way of ['', '/certificates', '/certificates.csv']) {
      await it.nobody().get(`/api/instruments/${one.id}${way}`).expect(401)
      await h.bench.get(`/api/instruments/01930000-0000-7000-8000-00000000dead${way}`).expect(404)
    }
    await h.bench.post('/api/instruments/01930000-0000-7000-8000-00000000dead/checks', { kind: 'zero', held: true }).expect(404)
    const again = await h.bench.post(address, { kind: 'zero', held: true }, 'the-same-zero').expect(201)
    const replay = await h.bench.post(address, { kind: 'zero', held: true }, 'the-same-zero').expect(201)
    expect(replay.headers.replayed).toBe('yes')
    expect(replay.body).toEqual(again.body)
    await expect(it.db.pool.query('UPDATE instrument_check SET held = false WHERE instrument_id = $1', [one.id])).rejects.toThrow(
      /permission denied|never changed/,
    )
    await h.bench.patch(`/api/instruments/${one.id}`, { ended: true }, 1).expect(200)
    await h.bench.post(address, { kind: 'zero', held: true }).expect(409)
  })
})

describe('the certificates of an instrument', () => {
  async function sign(): Promise<string> {
    const job = await truedRebuild(h)
    await secondReading(h, job)
    it.clock.pass(1)
    return (await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)).body.number
  }

  test('are listed since its last good check, and it signs nothing while it is in doubt', async () => {
    const before = await sign()
    await found(h.dial.id, { kind: 'check', held: true })
    const first = await sign()
    const second = await sign()
    expect(numbersOf(await madeWith(h.dial.id))).toEqual([second, first])

    const waiting = await truedRebuild(h)
    await secondReading(h, waiting)
    const { doubt } = await found(h.dial.id, { kind: 'dropped' })
    const gate = (await h.second.get(`/api/jobs/${waiting.id}/gate`).expect(200)).body
    expect(codesOf(gate)).toContain('instrument-in-doubt')
    expect(gate.missing.find((one: { code: string }) => one.code === 'instrument-in-doubt')).toMatchObject({
      detail: `In doubt: ${h.dial.name} was dropped. It signs nothing until a check finds it good, or read again with another.`,
      pass: 'owner',
    })
    const refused = await h.second.post(`/api/jobs/${waiting.id}/certificates`, {}).expect(409)
    expect(codesOf(refused.body)).toContain('instrument-in-doubt')

    const hit = await madeWith(h.dial.id)
    expect(hit).toMatchObject({ n: 2, until: null, next: null })
    expect(numbersOf(hit)).toEqual([second, first])
    const [row] = hit.rows as [CertificateMadeWith]
    expect(row).toMatchObject({ verdict: 'within', stands: true, issuedOn: '2026-11-24', tag: expect.stringMatching(/-[A-Z]$/) })
    // Our limit 0.020 in the sheet of the engine; what the reading and its give-or-take leave of it.
    expect(row.marginMm).toBeGreaterThan(0)
    expect(row.marginMm).toBeLessThan(0.02)

    const pageOne = await madeWith(h.dial.id, '?limit=1')
    expect([numbersOf(pageOne), numbersOf(await madeWith(h.dial.id, `?limit=1&after=${pageOne.next}`))]).toEqual([[second], [first]])

    const file = await h.owner.get(`/api/instruments/${h.dial.id}/certificates.csv`).expect(200)
    const rows = parse(file.text, { bom: true, columns: true }) as Record<string, string>[]
    expect(rows.map((one) => [one.certificate, one.verdict, one.stands])).toEqual([
      [second, 'within', 'yes'],
      [first, 'within', 'yes'],
    ])

    // A good check frees what waits; the list of that fall stays where it was.
    await found(h.dial.id, { kind: 'check', held: true })
    expect(codesOf((await h.second.get(`/api/jobs/${waiting.id}/gate`).expect(200)).body)).not.toContain('instrument-in-doubt')
    expect((await madeWith(h.dial.id)).n).toBe(0)
    const then = await madeWith(h.dial.id, `?fault=${doubt?.fault}`)
    expect(then.until).toBe(it.clock.now.toISOString())
    expect(numbersOf(then)).toEqual([second, first])
    expect(numbersOf(then)).not.toContain(before)
    await h.bench.get(`/api/instruments/${h.dial.id}/certificates?fault=01930000-0000-7000-8000-00000000dead`).expect(404)
  })

  test('without a check written down begin with the book', async () => {
    const one = await add({ checkedOn: undefined, dueOn: undefined })
    expect(await madeWith(one.id)).toEqual({ since: null, until: null, n: 0, rows: [], next: null })
  })
})
