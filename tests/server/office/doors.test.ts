import { describe, expect, test } from 'vitest'
import type { OfficeCranks } from '#contract/office-cranks.ts'
import { POLICY } from '#contract/policy.ts'
import { startApp } from '#tests/support/app.ts'
import { pastJob } from '#tests/support/office-factories.ts'

const it = await startApp()
const owner = await it.as('owner')
const counter = await it.as('counter')
const bench = await it.as('bench', { maySign: true })
const nobody = it.nobody()

const addresses = Object.keys(POLICY).flatMap((row) => (row.startsWith('GET /api/office') ? [row.slice(4)] : []))

describe('who may look', () => {
  test.each(addresses)('%s is for the owner alone', async (address) => {
    const asked = address.includes('/cranks') ? `${address}?figure=late` : address
    expect((await owner.get(asked)).status).toBe(200)
    for (const agent of [counter, bench]) expect((await agent.get(asked)).body.type).toBe('/problems/forbidden')
    expect((await nobody.get(asked)).body.type).toBe('/problems/signed-out')
  })
})

describe('filters that cannot be', () => {
  test.each([
    ['/api/office/cranks', 'figure'],
    ['/api/office/cranks?figure=profit', 'figure'],
    ['/api/office/cranks?figure=comebacks&from=2026-13-01', 'from'],
    ['/api/office/cranks?figure=late&from=2026-11-01', 'from'],
    ['/api/office/cranks?figure=late&waiting=kit', 'waiting'],
    ['/api/office/cranks.csv?figure=in&waiting=kit', 'waiting'],
    ['/api/office/cranks?figure=late&after=%27', 'after'],
    ['/api/office/flow?weeks=0', 'weeks'],
    ['/api/office/flow?weeks=105', 'weeks'],
    ['/api/office/first-check?engine=7', 'engine'],
    ['/api/office/comebacks?by=weather', 'by'],
    ['/api/office/running?lot=S-0936', 'lot'],
    ['/api/office/late.csv?separator=tab', 'separator'],
  ])('%s', async (address, named) => {
    const { body, status } = await owner.get(address)
    expect(status).toBe(400)
    expect(body.type).toBe('/problems/validation')
    expect(body.errors[0].pointer).toContain(named)
  })

  test('a lot that is not in the book is not found', async () => {
    const answer = await owner.get('/api/office/running?lot=00000000-0000-7000-8000-000000000000')
    expect([answer.status, answer.body.type]).toEqual([404, '/problems/not-found'])
  })
})

test('the cranks behind a figure come page by page, the newest tag first, none twice', async () => {
  const made: string[] = []
  for (let index = 0; index < 5; index++) made.unshift((await pastJob(it, { state: 'booked' })).tag)
  const seen: string[] = []
  let next: string | null = ''
  while (next !== null) {
    const after: string = next === '' ? '' : `&after=${next}`
    const body = (await owner.get(`/api/office/cranks?figure=house&limit=2${after}`).expect(200)).body as OfficeCranks
    expect(body.n).toBe(5)
    seen.push(...body.rows.map((row) => row.tag))
    next = body.next
  }
  expect(seen).toEqual(made)
})
