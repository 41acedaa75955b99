import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'

const it = await startApp()
const bench = await it.as('bench')
const counter = await it.as('counter')

async function add(body: object = {}) {
  return bench.post('/api/instruments', {
    name: 'dial 4',
    kind: 'dial',
    stepMm: 0.001,
    checkedOn: '2026-10-14',
    dueOn: '2027-02-14',
    ...body,
  })
}

describe('instruments', () => {
  test('are added, listed by name with those used no more last, and seen by everybody', async () => {
    const made = await add()
    expect(made.status).toBe(201)
    expect(made.body).toEqual({
      id: expect.any(String),
      name: 'dial 4',
      kind: 'dial',
      stepMm: 0.001,
      checkedOn: '2026-10-14',
      dueOn: '2027-02-14',
      overdue: false,
      ended: false,
      version: 1,
    })
    const gone = (await add({ name: 'dial 1', dueOn: '2026-11-01' })).body
    await bench.patch(`/api/instruments/${gone.id}`, { ended: true }, 1).expect(200)
    await add({ name: 'feeler set', kind: 'feeler', stepMm: 0.05, checkedOn: undefined, dueOn: undefined })
    const list = (await counter.get('/api/instruments').expect(200)).body
    expect(list.map((one: { name: string }) => one.name)).toEqual(['dial 4', 'feeler set', 'dial 1'])
    expect(list[2]).toMatchObject({ ended: true, overdue: false, version: 2 })
  })

  test.each([
    ['the day before', '2026-11-23', true],
    ['today', '2026-11-24', false],
    ['not said', undefined, false],
  ])('due %s: overdue %s by the day of the shop', async (when, dueOn, overdue) => {
    const made = await add({ name: `dial due ${when}`, checkedOn: undefined, dueOn })
    expect(made.body.overdue).toBe(overdue)
  })

  test('turn overdue at midnight of the shop, not of Greenwich', async () => {
    const owner = await it.as('owner')
    const { version, ...settings } = (await owner.get('/api/settings').expect(200)).body
    const made = await add({ name: 'dial 7', dueOn: '2026-11-24' })
    const overdue = async () =>
      (await bench.get('/api/instruments').expect(200)).body.find((one: { id: string }) => one.id === made.body.id).overdue
    await owner.put('/api/settings', { ...settings, zone: 'Pacific/Auckland' }, version).expect(200)
    // 09:00 UTC is 22:00 of the 24th in Auckland.
    expect(await overdue()).toBe(false)
    it.clock.pass(3 * 60)
    expect(await overdue()).toBe(true)
    await owner.put('/api/settings', { ...settings, zone: 'UTC' }, version + 1).expect(200)
    expect(await overdue()).toBe(false)
  })

  test('are not added twice, nor with a field missing, nor due before their check, nor by the counter', async () => {
    await add({ name: 'dial 9' })
    expect((await add({ name: 'dial 9' })).body.errors).toEqual([expect.objectContaining({ pointer: '/name', code: 'taken' })])
    expect((await add({ name: undefined })).status).toBe(400)
    expect((await add({ name: 'dial 10', dueOn: '2026-10-01' })).body.errors[0].pointer).toBe('/dueOn')
    await counter.post('/api/instruments', { name: 'dial 11', kind: 'dial', stepMm: 0.01 }).expect(403)
    await it.nobody().get('/api/instruments').expect(401)
  })

  test('are changed at the version that was seen, and not past each other', async () => {
    const made = (await add({ name: 'dial 12' })).body
    const address = `/api/instruments/${made.id}`
    await bench.patch(address, { checkedOn: '2026-11-24' }).expect(428)
    const checked = await bench.patch(address, { checkedOn: '2026-11-24', dueOn: '2027-03-24' }, 1).expect(200)
    expect(checked.body).toMatchObject({ checkedOn: '2026-11-24', dueOn: '2027-03-24', name: 'dial 12', version: 2 })
    expect(checked.headers.etag).toBe('"2"')
    const stale = await bench.patch(address, { name: 'dial 13' }, 1).expect(412)
    expect(stale.body).toMatchObject({ type: '/problems/stale-version', version: 2 })
    await counter.patch(address, { name: 'dial 13' }, 2).expect(403)
    await bench.patch('/api/instruments/01930000-0000-7000-8000-00000000dead', { name: 'x' }, 1).expect(404)
  })

  test('answer a lost change again to the same key, and do it once', async () => {
    const made = (await add({ name: 'dial 14' })).body
    const send = () => bench.patch(`/api/instruments/${made.id}`, { dueOn: '2027-05-01' }, 1).set('idempotency-key', 'the-same-key-14')
    const first = await send().expect(200)
    const again = await send().expect(200)
    expect(again.headers.replayed).toBe('yes')
    expect(again.body).toEqual(first.body)
    expect(first.body.version).toBe(2)
    const audit = await it.db.pool.query("SELECT 1 FROM audit_row WHERE action = 'change instrument' AND entity_id = $1", [made.id])
    expect(audit.rowCount).toBe(1)
  })
})
