import { randomUUID } from 'node:crypto'
import pg from 'pg'
import { describe, expect, test } from 'vitest'
import type { AuditCheck, AuditLine } from '#contract/audit.ts'
import { perform } from '#server/plugins/act.ts'
import { startApp } from '#tests/support/app.ts'
import { handsOf, secondReading, truedRebuild } from '#tests/support/bench-factories.ts'
import { addCustomer, addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)
const { owner, counter, bench } = h

async function lines(query: string): Promise<AuditLine[]> {
  return (await owner.get(`/api/audit?${query}`).expect(200)).body.rows
}

async function asBoss(work: (client: pg.Client) => Promise<unknown>): Promise<void> {
  const client = new pg.Client({ connectionString: it.url })
  await client.connect()
  await work(client)
  await client.end()
}

describe('who changed what', () => {
  test('newest first, in the words of the shop, with what stood before and after', async () => {
    const { id } = await addCustomer(it, { name: 'Hollis, A.', phone: '0161 496 0103' })
    it.clock.pass(5)
    await counter.patch(`/api/customers/${id}`, { phone: '0161 496 7777', note: 'rings late' }, 1).expect(200)
    const [changed, added] = await lines(`thing=customer&id=${id}`)
    expect(changed).toEqual({
      seq: expect.any(Number),
      at: it.clock.now.toISOString(),
      by: 'Hana',
      byId: counter.person.id,
      action: 'change customer',
      did: 'changed a customer',
      about: { thing: 'customer', id, says: 'Hollis, A.' },
      changes: [
        { field: 'note', label: 'note', after: 'rings late' },
        { field: 'phone', label: 'phone', before: '0161 496 0103', after: '0161 496 7777' },
      ],
      kept: 'whole',
    })
    expect(added).toMatchObject({ action: 'add customer', did: 'wrote a customer down', seq: expect.any(Number) })
    expect(added!.seq).toBeLessThan(changed!.seq)
  })

  test('names stand where the chain keeps ids, amounts have their currency, days are of the shop', async () => {
    const job = await bookJob(it, { engineId: (await addEngine(it)).id, promisedOn: '2026-12-07' })
    await counter.post(`/api/jobs/${job.id}/place`, { place: 'bench 2', holderId: bench.person.id }).expect(200)
    await counter.post(`/api/jobs/${job.id}/place`, { place: 'rack A' }).expect(200)
    await counter.post(`/api/jobs/${job.id}/quotes`, { totalMinor: 26_800, text: 'rebuild with kit' }).expect(201)
    await owner.post(`/api/jobs/${job.id}/end`, { end: 'given-back', reason: 'they want it back' }).expect(200)
    const [ended, quote, back, moved, booked] = await lines(`thing=job&id=${job.id}`)
    expect(ended).toMatchObject({ did: 'ended a job', reason: 'they want it back', about: { says: job.tag } })
    expect(ended?.changes).toContainEqual({ field: 'state', label: 'state', before: 'booked', after: 'given back' })
    expect(quote?.changes).toContainEqual({ field: 'totalMinor', label: 'total', after: '268.00 EUR' })
    expect(moved?.changes).toEqual([
      { field: 'holderId', label: 'who has it', after: 'Jonas' },
      { field: 'place', label: 'place', after: 'bench 2' },
    ])
    // What was not said of stays as it was, and is no change.
    expect(back?.changes).toEqual([{ field: 'place', label: 'place', before: 'bench 2', after: 'rack A' }])
    expect(booked?.changes).toContainEqual({ field: 'promisedOn', label: 'promise', after: '7 December 2026' })
    expect(JSON.stringify([ended, quote, back, moved, booked].map((line) => line?.changes))).not.toMatch(/[{}]\\"|[0-9a-f]{8}-[0-9a-f]{4}-/)
  })

  test('what belongs to a job counts as the job, and a first reading stays hidden from whoever may read second', async () => {
    const job = await truedRebuild(h)
    const readings = async (by = owner) =>
      ((await by.get(`/api/audit?thing=job&id=${job.id}&action=take%20readings&limit=200`).expect(200)).body.rows as AuditLine[]).filter(
        (line) => line.about.says === job.tag,
      )
    const before = await readings()
    expect(before.length).toBeGreaterThan(4)
    const hidden = before.filter((line) => line.kept === 'out-of-sight')
    expect(hidden.length).toBeGreaterThan(0)
    for (const line of hidden) expect(line).toMatchObject({ changes: [], by: 'Jonas', about: { thing: 'job', id: job.id } })
    await secondReading(h, job)
    expect((await readings()).every((line) => line.kept === 'whole')).toBe(true)
  })

  test('the step back of the owner, with its reason', async () => {
    const job = await truedRebuild(h)
    await owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'together', reason: 'right web let go' }).expect(200)
    const [line] = await lines(`thing=job&id=${job.id}&action=step%20back`)
    expect(line).toMatchObject({ by: 'Ewa', did: 'took a step back', reason: 'right web let go' })
    expect(line?.changes).toEqual([{ field: 'state', label: 'state', before: 'true', after: 'together' }])
  })

  test('an action and a thing that nobody named yet are told by their own names; the book itself has none', async () => {
    await perform(it.db, { by: owner.person, now: it.clock.now }, async (act) =>
      act.note('paint blue', 'fence', 'garden', { after: { coats: 2 } }),
    )
    await it.db.pool.query("SELECT audit_append(now(), NULL, 'tidy up', 'fence', 'garden', NULL, '{}')")
    const [alone, painted] = await lines('limit=2')
    expect(painted).toMatchObject({ did: 'paint blue', about: { says: '' }, changes: [{ field: 'coats', label: 'coats', after: '2' }] })
    expect(painted?.about).not.toHaveProperty('thing')
    expect(alone).toMatchObject({ did: 'tidy up', changes: [] })
    expect(alone).not.toHaveProperty('by')
  })

  test('what a row said may have been taken out; that is told, and the rest stands', async () => {
    const { id } = await addCustomer(it)
    await asBoss(async (client) => {
      await client.query('ALTER TABLE audit_row DISABLE TRIGGER never_changed')
      await client.query('UPDATE audit_row SET payload = NULL WHERE entity_id = $1', [id])
      await client.query('ALTER TABLE audit_row ENABLE ALWAYS TRIGGER never_changed')
    })
    expect(await lines(`thing=customer&id=${id}`)).toMatchObject([{ kept: 'taken-out', changes: [], action: 'add customer' }])
  })
})

describe('finding in it', () => {
  test('by person, thing, action and days of the shop’s zone', async () => {
    const { version, ...stands } = (await owner.get('/api/settings').expect(200)).body
    await owner.put('/api/settings', { ...stands, zone: 'Pacific/Auckland' }, version).expect(200)
    // 11:30 UTC is half past midnight of the next day there.
    it.clock.now = new Date('2026-11-24T11:30:00.000Z')
    const late = await it.as('counter', { name: 'Late' })
    const { id } = (await late.post('/api/customers', { name: 'Midnight', phone: '1' }).expect(201)).body
    it.clock.now = new Date('2026-11-24T10:30:00.000Z')
    await late.post('/api/customers', { name: 'Before midnight', phone: '1' }).expect(201)
    const byLate = (query = '') => lines(`person=${late.person.id}${query}`)
    expect(await byLate()).toHaveLength(2)
    expect((await byLate('&from=2026-11-25')).map((line) => line.about.id)).toEqual([id])
    expect(await byLate('&to=2026-11-24')).toHaveLength(1)
    expect(await byLate('&from=2026-11-24&to=2026-11-25')).toHaveLength(2)
    expect(await byLate('&action=change%20customer')).toEqual([])
    expect(await byLate('&thing=job')).toEqual([])
    expect(await lines('thing=settings')).toHaveLength(1)
  })

  test('page by page, each line once, newest first', async () => {
    const seen: number[] = []
    let next: string | null = null
    do {
      const page: { rows: AuditLine[]; next: string | null } = (
        await owner.get(`/api/audit?limit=40${next === null ? '' : `&after=${next}`}`).expect(200)
      ).body
      seen.push(...page.rows.map((line) => line.seq))
      next = page.next
    } while (next !== null)
    expect(seen).toEqual(Array.from({ length: seen.length }, (_, place) => seen.length - place))
  })

  test.each([
    'person=ewa',
    'thing=fence',
    'id=00000000-0000-7000-8000-000000000000',
    'from=2026-13-01',
    'limit=0',
    'after=x',
    'colour=blue',
  ])('?%s is refused', async (query) => {
    expect((await owner.get(`/api/audit?${query}`)).status).toBe(400)
  })

  test('a thing that is not there has no history, and the audit is the owner’s', async () => {
    expect(await lines(`thing=job&id=${randomUUID()}`)).toEqual([])
    for (const address of ['/api/audit', '/api/audit/check']) {
      for (const agent of [counter, bench]) await agent.get(address).expect(403)
      await it.nobody().get(address).expect(401)
    }
  })
})

describe('the chain', () => {
  const check = async (after?: number): Promise<AuditCheck> =>
    (await owner.get(`/api/audit/check${after === undefined ? '' : `?after=${after}`}`).expect(200)).body

  test('holds, from the first row and from any later one, with the same head', async () => {
    const whole = await check()
    expect(whole).toMatchObject({ after: 0, upTo: whole.rows, fault: null, next: null, head: expect.stringMatching(/^[0-9a-f]{64}$/) })
    expect(await check(10)).toEqual({ ...whole, after: 10 })
    expect(await check(whole.rows)).toEqual({ ...whole, after: whole.rows })
    await owner.get(`/api/audit/check?after=${whole.rows + 1}`).expect(404)
    await owner.get('/api/audit/check?after=-1').expect(400)
  })

  test('longer than one piece is followed piece by piece', async () => {
    const { rows } = await check()
    await it.db.pool.query("SELECT count(audit_append(now(), NULL, 'fill', 'fence', g::text, NULL, '{}')) FROM generate_series(1, 5200) g")
    const first = await check()
    expect([first.upTo, first.next, first.rows, first.fault]).toEqual([5000, 5000, rows + 5200, null])
    const second = await check(first.next ?? 0)
    expect([second.after, second.upTo, second.next, second.fault]).toEqual([5000, rows + 5200, null, null])
  })

  test('names the first row that was changed behind its back', async () => {
    await asBoss(async (client) => {
      await client.query('ALTER TABLE audit_row DISABLE TRIGGER never_changed')
      await client.query("UPDATE audit_row SET actor_id = NULL WHERE seq = 7; UPDATE audit_row SET action = 'x' WHERE seq = 9")
      await client.query('ALTER TABLE audit_row ENABLE ALWAYS TRIGGER never_changed')
    })
    expect(await check()).toMatchObject({ upTo: 6, fault: { seq: 7, says: 'one of its fields was changed' }, next: null })
    expect(await check(9)).toMatchObject({ fault: null })
  })
})
