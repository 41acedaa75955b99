import { beforeAll, describe, expect, test } from 'vitest'
import type { OfficeCranks } from '#contract/office-cranks.ts'
import type { OfficeFirstCheck } from '#contract/office-first-check.ts'
import { rate } from '#core/rate.ts'
import { startApp } from '#tests/support/app.ts'
import { addEngine } from '#tests/support/factories.ts'
import { addSecondSet, pastJob, strikeOut } from '#tests/support/office-factories.ts'

const it = await startApp()
const owner = await it.as('owner')
const jonas = await it.as('bench', { name: 'Jonas' })
const marek = await it.as('bench', { name: 'Marek' })
const read = async (query = '') => (await owner.get(`/api/office/first-check${query}`).expect(200)).body as OfficeFirstCheck
const cranks = async (query: string) => (await owner.get(`/api/office/cranks?${query}`).expect(200)).body as OfficeCranks

let kvarnby: string
let ruskhammar: string

beforeAll(async () => {
  kvarnby = (await addEngine(it, { maker: 'Kvarnby', code: 'K249' })).id
  ruskhammar = (await addEngine(it, { maker: 'Ruskhammar', code: 'R449' })).id
  const checked = (engineId: string, truedBy: string, at: string, left: number, right: number) =>
    pastJob(it, { engineId, truedBy, state: 'trued', bookedAt: '2026-10-01T08:00:00Z', stepAt: at, second: { left, right, at } })
  await checked(kvarnby, jonas.person.id, '2026-10-30T08:00:00Z', 0.02, 0.02)
  await checked(kvarnby, jonas.person.id, '2026-11-02T08:00:00Z', 0.01, 0.021)
  await checked(ruskhammar, jonas.person.id, '2026-11-03T08:00:00Z', 0.01, 0.01)
  const twice = await checked(ruskhammar, marek.person.id, '2026-11-04T08:00:00Z', 0.03, 0.01)
  // Only the first set counts, though the next one is inside.
  await addSecondSet(it, twice.id, { left: 0.01, right: 0.01, at: '2026-11-05T08:00:00Z' })
  const struck = await pastJob(it, { engineId: ruskhammar, truedBy: marek.person.id, state: 'trued', bookedAt: '2026-11-01T08:00:00Z' })
  // The first set was struck out, so that the next one is the first.
  await strikeOut(it, 'measurement', await addSecondSet(it, struck.id, { left: 0.09, right: 0.09, at: '2026-11-06T08:00:00Z' }))
  await addSecondSet(it, struck.id, { left: 0.02, right: 0.01, at: '2026-11-09T08:00:00Z' })
  await pastJob(it, { kind: 'check-and-report', state: 'signed', second: { left: 0.2, right: 0.2, at: '2026-11-06T08:00:00Z' } })
  // An end that was not read says nothing.
  const halfRead = await pastJob(it, { engineId: kvarnby, truedBy: jonas.person.id, state: 'trued' })
  await it.db.pool.query(
    `INSERT INTO measurement (id, job_id, kind, phase, person_id, occurred_at, recorded_at, figures)
     VALUES (gen_random_uuid(), $1, 'runout', 'second', $2, $3, $3, '{"left":{"tirMm":0.01},"limits":{"leftMm":0.02,"rightMm":0.02},"giveOrTake":{"leftMm":0.005,"rightMm":0.005}}')`,
    [halfRead.id, marek.person.id, '2026-11-10T08:00:00Z'],
  )
  await pastJob(it, { state: 'trued', truedBy: jonas.person.id, second: { left: 0.01, right: 0.01, at: '2025-06-01T08:00:00Z' } })
})

describe('true at first check', () => {
  test('counts the first set that stands, inside at both ends, with its interval', async () => {
    const figure = await read()
    const expected = rate({ failures: 3, total: 5 })
    expect(figure.all).toEqual({ n: 5, count: 3, share: 0.6, wilson: expected.ok ? expected.value.wilson : null })
    expect(figure.n).toBe(5)
    expect(figure.rule).toContain('within the house limit')
  })

  test('by person and by engine', async () => {
    const { byPerson, byEngine } = await read()
    expect(byPerson.map(({ name, n, count }) => [name, n, count])).toEqual([
      ['Jonas', 3, 2],
      ['Marek', 2, 1],
    ])
    expect(byEngine.map(({ name, n, count }) => [name, n, count]).sort()).toEqual([
      ['Kvarnby K249', 2, 1],
      ['Ruskhammar R449', 3, 2],
    ])
    const list = await cranks(byPerson[1]!.cranks!)
    expect([list.n, list.rows.map(({ firstCheck }) => firstCheck)]).toEqual([2, ['within', 'over']])
  })

  test('by month, months without any included', async () => {
    const { byMonth } = await read('?from=2026-09-01&to=2026-11-30')
    expect(byMonth.map(({ month, n, count }) => [month, n, count])).toEqual([
      ['2026-09', 0, 0],
      ['2026-10', 1, 1],
      ['2026-11', 4, 2],
    ])
    expect(byMonth[0]!.share).toBeUndefined()
    for (const month of byMonth) expect((await cranks(month.cranks!)).n).toBe(month.n)
  })

  test('filtered by engine and by person it is counted by the same rule', async () => {
    const one = await read(`?engine=${kvarnby}&from=2026-11-01&to=2026-11-30`)
    expect(one.all).toMatchObject({ n: 1, count: 0 })
    const both = await read(`?engine=${ruskhammar}&person=${marek.person.id}`)
    expect(both.all).toMatchObject({ n: 2, count: 1 })
    expect(both.byPerson.map(({ name, n }) => [name, n])).toEqual([['Marek', 2]])
    expect((await cranks(both.cranks!)).n).toBe(2)
  })

  test('a window without any says 0 of 0 and no share', async () => {
    expect((await read('?from=2024-01-01&to=2024-12-31')).all).toEqual({ n: 0, count: 0 })
  })
})
