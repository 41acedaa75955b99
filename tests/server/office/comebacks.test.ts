import { beforeAll, describe, expect, test } from 'vitest'
import type { OfficeComebacks, OfficeRunning } from '#contract/office-came-back.ts'
import type { OfficeCranks } from '#contract/office-cranks.ts'
import type { OfficeEarning } from '#contract/office-earns.ts'
import { compare } from '#core/compare.ts'
import { startApp } from '#tests/support/app.ts'
import { addEngine } from '#tests/support/factories.ts'
import { addHours, hearOf, lotId, pastJob, reportBack, strikeOut } from '#tests/support/office-factories.ts'

/** Tuesday 24 November 2026, UTC. */
const it = await startApp()
const owner = await it.as('owner')
const jonas = await it.as('bench', { name: 'Jonas' })
const read = async (query = '') => (await owner.get(`/api/office/comebacks${query}`).expect(200)).body as OfficeComebacks
const running = async (query = '') => (await owner.get(`/api/office/running${query}`).expect(200)).body as OfficeRunning
const cranks = async (query: string) => (await owner.get(`/api/office/cranks?${query}`).expect(200)).body as OfficeCranks

let lot: string
let kvarnby: string

beforeAll(async () => {
  lot = await lotId(it, 'S-0936')
  kvarnby = (await addEngine(it, { maker: 'Kvarnby', code: 'K249' })).id
  // Ten of the bad lot: four back at 22.5, 35, 41 and at hours nobody knows, the others heard of or not.
  const hours = [22.5, 35, 41, undefined]
  for (const [index, at] of hours.entries())
    await pastJob(it, {
      engineId: kvarnby,
      truedBy: jonas.person.id,
      lot: 'S-0936',
      leftAt: `2026-03-1${index}T09:00:00Z`,
      back: { day: '2026-06-01', ...(at === undefined ? {} : { hours: at }), ...(index < 2 ? { cause: 'kit' } : {}) },
    })
  for (let index = 0; index < 3; index++)
    await pastJob(it, { lot: 'S-0936', leftAt: '2026-04-01T09:00:00Z', heard: { day: '2026-07-01', hours: 60 + index } })
  for (let index = 0; index < 2; index++) await pastJob(it, { lot: 'S-0936', leftAt: '2026-04-01T09:00:00Z' })
  // One of the lot that is here again for another kit.
  const again = await pastJob(it, { lot: 'S-0936', leftAt: '2026-04-01T09:00:00Z' })
  await pastJob(it, { crankId: again.crankId, bookedAt: '2026-11-20T09:00:00Z' })
  // Sixty with other lots: two back, one of them struck out; one back two years after.
  for (let index = 0; index < 60; index++)
    await pastJob(it, { lot: `A-${index % 6}`, leftAt: '2026-05-04T09:00:00Z', heard: { day: '2026-08-01', hours: 80 } })
  const { rows } = await it.db.pool.query<{ id: string }>(
    `SELECT f.job_id AS id FROM kit_fitted f JOIN kit_lot l ON l.id = f.kit_lot_id WHERE l.lot = 'A-1' ORDER BY f.job_id LIMIT 2`,
  )
  await reportBack(it, rows[0]!.id, { day: '2026-06-06', hours: 50, cause: 'lubrication' })
  await strikeOut(it, 'comeback', await reportBack(it, rows[1]!.id, { day: '2026-06-06', hours: 5, cause: 'kit' }))
  // Gone longer ago than the window: back within its twelve months to the day, and a day after them.
  await pastJob(it, { lot: 'B-1', leftAt: '2024-03-05T09:00:00Z', back: { day: '2025-03-05', hours: 90 } })
  await pastJob(it, { lot: 'B-1', leftAt: '2024-03-05T09:00:00Z', back: { day: '2025-03-06', hours: 90 } })
  // Two without a kit, one of them back.
  await pastJob(it, { kind: 'true-only', leftAt: '2026-05-04T09:00:00Z', back: { day: '2026-06-01', cause: 'nothing-found' } })
  await pastJob(it, { kind: 'true-only', leftAt: '2026-05-04T09:00:00Z' })
})

describe('what came back', () => {
  test('of all that went home in the window, by cause', async () => {
    const figure = await read()
    expect(figure.all).toMatchObject({ n: 72, back: 6, young: 72 })
    expect(figure.all.perHundred).toBeCloseTo((100 * 6) / 72, 12)
    expect(figure.rows.map(({ key, name, back, n }) => [key, name, back, n]).sort()).toEqual(
      [
        ['kit', 'the kit', 2, 72],
        [null, 'not decided yet', 2, 72],
        ['lubrication', 'oil, fuel or dirt', 1, 72],
        ['nothing-found', 'nothing found', 1, 72],
      ].sort(),
    )
    for (const row of figure.rows) expect((await cranks(row.cranksBack!)).n).toBe(row.back)
    expect((await cranks(figure.all.cranksBack!)).n).toBe(6)
  })

  test('within twelve months to the day, and no later', async () => {
    const figure = await read('?from=2024-03-04&to=2024-03-10&by=lot')
    expect(figure.all).toMatchObject({ n: 2, back: 1, young: 0 })
  })

  test('a lot that is not chance is called out, with what is still out of it', async () => {
    const figure = await read('?by=lot')
    expect(figure.lotsLookedAt).toBe(7)
    const bad = figure.rows.find((row) => row.key === lot)!
    expect(figure.rows[0]).toEqual(bad)
    expect(bad).toMatchObject({ name: 'Stellmarch lot S-0936', n: 10, back: 4 })
    const fisher = compare({ a: { failures: 4, total: 10 }, b: { failures: 1, total: 60 } })
    expect(bad.lot).toMatchObject({ p: fisher.ok && fisher.value.p, notChance: true, stillOut: 5, others: { n: 60, back: 1 } })
    expect(bad.lot!.pHolm).toBeCloseTo(7 * bad.lot!.p, 12)
    expect(bad.lot!.says).toMatch(/^Stellmarch lot S-0936 is not chance \(1 in [\d,]+ by chance\)\. 5 of its cranks are still out\.$/)
    expect(figure.rows.filter((row) => row.lot?.notChance)).toHaveLength(1)
    expect((await cranks(bad.lot!.cranksStillOut)).n).toBe(5)
    expect(figure.rows.find((row) => row.key === null)).toMatchObject({ name: 'no kit named', n: 2, back: 1 })
    for (const row of figure.rows) expect([(await cranks(row.cranks!)).n, (await cranks(row.cranksBack!)).n]).toEqual([row.n, row.back])
  })

  test('by engine and by person', async () => {
    const byEngine = await read('?by=engine')
    expect(byEngine.rows.find((row) => row.key === kvarnby)).toMatchObject({ name: 'Kvarnby K249', n: 4, back: 4 })
    const byPerson = await read('?by=person')
    expect(byPerson.rows.map(({ name, n, back }) => [name, n, back])).toEqual([
      ['Jonas', 4, 4],
      ['nobody called it true', 68, 2],
    ])
    expect((await cranks(byPerson.rows[1]!.cranks!)).n).toBe(68)
  })

  test('those gone less than twelve months ago are told, to the day', async () => {
    await pastJob(it, { leftAt: '2025-11-24T09:00:00Z' })
    await pastJob(it, { leftAt: '2025-11-25T09:00:00Z' })
    const { all } = await read('?from=2025-11-24&to=2025-11-30')
    expect(all).toMatchObject({ n: 2, young: 1 })
  })
})

describe('still running by hours ridden', () => {
  test('a lot against all other kits', async () => {
    const figure = await running(`?lot=${lot}`)
    const [bad, others] = figure.curves
    expect(figure.lot).toEqual({ id: lot, name: 'Stellmarch lot S-0936' })
    // 22.5 counts as 23. At risk at 23: all nine that are placed but the three never heard of.
    expect(bad).toMatchObject({ group: 'lot', n: 9, back: 3, noHours: 1, neverHeardOf: 3 })
    expect(bad!.steps.map(({ hours, atRisk, back }) => [hours, atRisk, back])).toEqual([
      [23, 6, 1],
      [35, 5, 1],
      [41, 4, 1],
    ])
    expect(bad!.steps.map(({ running: share }) => share)).toEqual([5 / 6, (5 / 6) * (4 / 5), expect.closeTo(0.5, 12)])
    expect(bad!.heard).toEqual([60, 61, 62].map((hours) => ({ hours, count: 1 })))
    // 60 of lots A, and two of lot B that came back at 90 h, one of them after its twelve months: it ran 90 h all the same.
    expect(others).toMatchObject({ group: 'others', n: 62, back: 3, noHours: 0, neverHeardOf: 0 })
    expect(others!.steps.map(({ hours, atRisk, back }) => [hours, atRisk, back])).toEqual([
      [50, 62, 1],
      [90, 2, 2],
    ])
    expect(figure.logRank!.p).toBeLessThan(0.001)
    expect([(await cranks(bad!.cranks)).n, (await cranks(others!.cranks)).n]).toEqual([10, 62])
  })

  test('all kits in one line; struck-out calls do not count', async () => {
    const before = await running()
    expect(before.curves).toHaveLength(1)
    expect(before).toMatchObject({ n: 72, curves: [{ group: 'all', n: 71, back: 6, noHours: 1 }] })
    const job = await pastJob(it, { lot: 'C-1', leftAt: '2026-05-04T09:00:00Z' })
    const call = await hearOf(it, job.id, { day: '2026-09-01', hours: 500 })
    expect((await running()).curves[0]!.heard.at(-1)).toEqual({ hours: 500, count: 1 })
    await strikeOut(it, 'follow_up', call)
    const after = await running()
    expect(after.curves[0]!.heard.at(-1)).toEqual({ hours: 80, count: 59 })
    expect(after.curves[0]!.neverHeardOf).toBe(before.curves[0]!.neverHeardOf + 1)
  })
})

test('a lot that a maker gave to two parts is one lot', async () => {
  await lotId(it, 'W-1')
  await it.db.pool.query(
    `WITH part AS (INSERT INTO kit_model (id, maker, part) VALUES (gen_random_uuid(), 'Stellmarch', 'K-10') RETURNING id)
     INSERT INTO kit_lot (id, kit_model_id, lot) SELECT gen_random_uuid(), id, 'W-1' FROM part`,
  )
  const one = await pastJob(it, { lot: 'W-1', leftAt: '2022-03-07T09:00:00Z' })
  const other = await pastJob(it, { lot: 'W-1', leftAt: '2022-03-08T09:00:00Z' })
  await it.db.pool.query(
    `UPDATE kit_fitted SET kit_lot_id = (SELECT l.id FROM kit_lot l JOIN kit_model m ON m.id = l.kit_model_id WHERE m.part = 'K-10' AND l.lot = 'W-1')
     WHERE job_id = $1`,
    [other.id],
  )
  const { rows } = await read('?by=lot&from=2022-03-07&to=2022-03-13')
  expect(rows.map(({ name, n }) => [name, n])).toEqual([['Stellmarch lot W-1', 2]])
  const behind = await cranks(rows[0]!.cranks!)
  expect(behind.rows.map(({ id }) => id).sort()).toEqual([one.id, other.id].sort())
})

describe('what earns', () => {
  const earning = async (query: string) => (await owner.get(`/api/office/earning${query}`).expect(200)).body as OfficeEarning

  test('bench hours and price without tax, by engine, the least for an hour first', async () => {
    const ruskhammar = (await addEngine(it, { maker: 'Ruskhammar', code: 'R449' })).id
    const gone = { leftAt: '2023-02-07T09:00:00Z' }
    await pastJob(it, { ...gone, engineId: kvarnby, benchHours: 2, price: { total: 24_000, tax: 4_000 } })
    await pastJob(it, { ...gone, engineId: kvarnby, benchHours: 3, price: { total: 24_000, tax: 4_000 } })
    await pastJob(it, { ...gone, engineId: ruskhammar, benchHours: 5, price: { total: 18_000, tax: 3_000 } })
    // Without hours, without a price, of another kind, not gone: none of them counts.
    await pastJob(it, { ...gone, engineId: ruskhammar, price: { total: 99_000, tax: 0 } })
    await pastJob(it, { ...gone, engineId: ruskhammar, benchHours: 9 })
    await pastJob(it, { ...gone, kind: 'true-only', engineId: ruskhammar, benchHours: 1, price: { total: 9_000, tax: 0 } })
    await pastJob(it, { engineId: ruskhammar, bookedAt: '2023-02-07T09:00:00Z', benchHours: 9, price: { total: 9_000, tax: 0 } })
    const figure = await earning('?from=2023-02-01&to=2023-02-28')
    expect(figure.all).toMatchObject({ n: 3, meanHours: 10 / 3, meanPriceMinor: 55_000 / 3, perHourMinor: 5_500 })
    expect(figure.rows.map(({ name, n, meanHours, perHourMinor, againstShop }) => [name, n, meanHours, perHourMinor, againstShop])).toEqual(
      [
        ['Ruskhammar R449', 1, 5, 3_000, 3_000 / 5_500],
        ['Kvarnby K249', 2, 2.5, 8_000, 8_000 / 5_500],
      ],
    )
    expect((await cranks(figure.rows[1]!.cranks!)).n).toBe(2)
    // Hours added later, on the same cranks, are in it at once.
    const [first] = (await cranks(figure.rows[0]!.cranks!)).rows
    await addHours(it, first!.id, 1, '2023-02-06T09:00:00Z')
    expect((await earning('?from=2023-02-01&to=2023-02-28')).rows[0]).toMatchObject({ meanHours: 6, perHourMinor: 2_500 })
  })
})
