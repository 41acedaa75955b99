import { describe, expect, test } from 'vitest'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { startApp } from '#tests/support/app.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'
import { readPdf } from '#tests/support/read-pdf.ts'

const it = await startApp()
const owner = await it.as('owner', { name: 'Ewa' })
const counter = await it.as('counter')
const bench = await it.as('bench')

let version = 1
async function write(change: object) {
  const { version: _stands, ...stands } = (await owner.get('/api/settings').expect(200)).body
  const answer = await owner.put('/api/settings', { ...stands, ...change }, version)
  if (answer.status === 200) version = answer.body.version
  return answer
}

describe('settings', () => {
  test('are read by everybody who is signed in, and a fresh book has the first ones', async () => {
    for (const agent of [owner, counter, bench])
      expect((await agent.get('/api/settings').expect(200)).body).toEqual({ ...FIRST_SETTINGS, version: 1 })
    await it.nobody().get('/api/settings').expect(401)
  })

  test('are changed by the owner, over the version that was seen, and stand in the audit with what differs', async () => {
    for (const agent of [counter, bench]) await agent.put('/api/settings', FIRST_SETTINGS, 1).expect(403)
    await it.nobody().put('/api/settings', FIRST_SETTINGS, 1).expect(401)
    await owner.put('/api/settings', FIRST_SETTINGS).expect(428)
    const changed = await write({ shopName: 'Kettle Row Crank Works', taxPermille: 77, promiseHours: 60, showUnit: 'thou' })
    expect(changed.body).toMatchObject({ shopName: 'Kettle Row Crank Works', taxPermille: 77, promiseHours: 60, showUnit: 'thou' })
    const stale = await owner.put('/api/settings', FIRST_SETTINGS, 1)
    expect([stale.status, stale.body.version]).toEqual([412, changed.body.version])
    const [line] = (await owner.get('/api/audit?thing=settings').expect(200)).body.rows
    expect(line).toMatchObject({ by: 'Ewa', did: 'changed the settings', about: { thing: 'settings', says: '' } })
    expect(line.changes).toContainEqual({ field: 'taxPermille', label: 'tax in a quote', before: '20 %', after: '7.7 %' })
    expect(line.changes.map((change: { field: string }) => change.field).sort()).toEqual([
      'promiseHours',
      'shopName',
      'showUnit',
      'taxPermille',
    ])
  })

  test.each([
    [{ zone: 'Berlin' }, '/zone'],
    [{ currency: 'euro' }, '/currency'],
    [{ taxPermille: 1001 }, '/taxPermille'],
    [{ houseLimitMm: 0 }, '/houseLimitMm'],
    [{ scrapFloorFactor: 0.5 }, '/scrapFloorFactor'],
    [{ idleMinutes: 4 }, '/idleMinutes'],
    [{ sessionHours: 25 }, '/sessionHours'],
    [{ promiseMonths: 0 }, '/promiseMonths'],
    [{ promiseHours: 0 }, '/promiseHours'],
    [{ storageDays: 0 }, '/storageDays'],
    [{ shopName: '' }, '/shopName'],
    [{ tellReady: undefined }, '/tellReady'],
  ])('%o is refused at its field', async (wrong, pointer) => {
    const answer = await write(wrong)
    expect([answer.status, answer.body.errors[0].pointer]).toEqual([400, pointer])
  })

  test.each([
    ['storageRule', 'within {dais} days', '{dais} is not known here. Known are {shop}, {days}.'],
    ['promiseText', 'for {tag}', '{tag} is not known here. Known are {shop}, {promise}.'],
    ['tellLate', 'pay {amount}', '{amount} is not known here. Known are {shop}, {tag}, {where}, {wait}, {date}.'],
  ])('a placeholder that %s does not know is refused at the field, with those it knows', async (name, text, says) => {
    const answer = await write({ [name]: text })
    expect([answer.status, answer.body.errors]).toEqual([400, [expect.objectContaining({ pointer: `/${name}`, detail: says })]])
  })

  test('a text with a stray placeholder from before the check still opens the book, and prints as it stands', async () => {
    const old = { ...FIRST_SETTINGS, storageRule: 'as {somebody} wrote' }
    await it.db.pool.query("UPDATE setting SET value = $1 WHERE key = 'shop'", [JSON.stringify(old)])
    expect((await owner.get('/api/settings').expect(200)).body.storageRule).toBe('as {somebody} wrote')
  })
})

test('the days of the storage rule are filled on the receipt', async () => {
  expect((await write({ storageRule: 'Not fetched within {days} days: storage.', storageDays: 45 })).status).toBe(200)
  const job = await bookJob(it, { engineId: (await addEngine(it)).id })
  const receipt = await it.app.inject({ url: `/api/jobs/${job.id}/receipt.pdf`, headers: { cookie: counter.cookie } })
  const { pages } = await readPdf(receipt.rawPayload)
  expect(pages.map((page) => page.text).join(' ')).toContain('Not fetched within 45 days: storage.')
})
