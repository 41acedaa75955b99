import { beforeAll, describe, expect, test } from 'vitest'
import type { OfficeCranks } from '#contract/office-cranks.ts'
import type { OfficeFlow } from '#contract/office-flow.ts'
import { startApp } from '#tests/support/app.ts'
import { pastJob } from '#tests/support/office-factories.ts'

/** Tuesday 24 November 2026 in a shop in Berlin. */
const it = await startApp()
const owner = await it.as('owner')
const { version, ...settings } = (await owner.get('/api/settings')).body
await owner.put('/api/settings', { ...settings, zone: 'Europe/Berlin' }, version).expect(200)

const read = async (query = '') => (await owner.get(`/api/office/flow${query}`).expect(200)).body as OfficeFlow
const cranks = async (query: string) => (await owner.get(`/api/office/cranks?${query}`).expect(200)).body as OfficeCranks

beforeAll(async () => {
  // Monday 16 November begins in Berlin at 23:00 UTC of the Sunday: one a second before it, one just then.
  await pastJob(it, { bookedAt: '2026-11-15T22:59:59Z' })
  await pastJob(it, { bookedAt: '2026-11-15T23:00:00Z' })
  // Days in the house: 3, 4, 4, 10, 20; the last two of other kinds.
  await pastJob(it, { bookedAt: '2026-11-09T08:00:00Z', leftAt: '2026-11-12T16:00:00Z' })
  await pastJob(it, { bookedAt: '2026-11-09T08:00:00Z', leftAt: '2026-11-13T16:00:00Z' })
  // Booked at half past midnight of the 13th in Berlin, gone at a quarter past midnight of the 17th.
  await pastJob(it, { bookedAt: '2026-11-12T23:30:00Z', leftAt: '2026-11-16T23:15:00Z' })
  await pastJob(it, { kind: 'true-only', bookedAt: '2026-11-10T08:00:00Z', leftAt: '2026-11-20T08:00:00Z', state: 'given-back' })
  await pastJob(it, { kind: 'weld-only', bookedAt: '2026-11-04T08:00:00Z', leftAt: '2026-11-24T08:00:00Z', state: 'scrapped' })
  // Before the weeks that are asked for.
  await pastJob(it, { bookedAt: '2026-09-01T08:00:00Z', leftAt: '2026-09-30T08:00:00Z' })
})

describe('in and out by week', () => {
  test('weeks are ISO weeks in the zone of the shop, those without any included', async () => {
    const flow = await read('?weeks=4')
    expect(flow.weeks.map(({ week, from, in: cameIn, out }) => [week, from, cameIn, out])).toEqual([
      ['2026-W45', '2026-11-02', 1, 0],
      ['2026-W46', '2026-11-09', 5, 2],
      ['2026-W47', '2026-11-16', 1, 2],
      ['2026-W48', '2026-11-23', 0, 1],
    ])
    expect([flow.from, flow.to, flow.in, flow.out, flow.n]).toEqual(['2026-11-02', '2026-11-24', 7, 5, 5])
  })

  test('every week leads to its cranks, as many as it says', async () => {
    const { weeks } = await read('?weeks=4')
    for (const week of weeks) {
      expect((await cranks(week.cranksIn)).n).toBe(week.in)
      const out = await cranks(week.cranksOut)
      expect([out.n, out.rows.length]).toEqual([week.out, week.out])
    }
  })

  test('twelve weeks unless said, of which a month begins in some', async () => {
    const flow = await read()
    expect(flow.weeks).toHaveLength(12)
    expect(flow.weeks.map(({ out }) => out).reduce((sum, out) => sum + out, 0)).toBe(6)
    expect(flow.weeks.find(({ from }) => from === '2026-09-28')?.out).toBe(1)
  })

  test('Little’s law beside its parts: 5 out in 23 days that stayed 8.2 days', async () => {
    const { little } = await read('?weeks=4')
    expect([little.inHandNow, little.days]).toEqual([2, 23])
    expect(little.perDay).toBeCloseTo(5 / 23, 12)
    expect(little.meanDays).toBeCloseTo((3 + 4 + 4 + 10 + 20) / 5, 12)
    expect(little.product).toBeCloseTo((5 / 23) * 8.2, 12)
    expect(little.daysAtThisPace).toBeCloseTo(2 / (5 / 23), 12)
  })

  test('days in the house: half, and 17 in 20 (type 7), in all and by kind', async () => {
    const { stay } = await read('?weeks=4')
    // Of 3 4 4 10 20 the place of 0.85 is 4 × 0.85 + 1 = 4.4: 10 + 0.4 × 10.
    expect(stay.all).toEqual({ n: 5, half: 4, seventeenIn20: expect.closeTo(14, 9), mean: 8.2 })
    expect(stay.byKind.map(({ kind, n, half }) => [kind, n, half])).toEqual([
      ['rebuild', 3, 4],
      ['true-only', 1, 10],
      ['weld-only', 1, 20],
    ])
  })

  test('one kind alone, and its cranks', async () => {
    const flow = await read('?weeks=4&kind=true-only')
    expect([flow.in, flow.out, flow.little.inHandNow]).toEqual([1, 1, 0])
    expect((await cranks(flow.cranks!)).rows.map(({ kind, days }) => [kind, days])).toEqual([['true-only', 10]])
  })

  test('a book without any has weeks of nothing, and no days', async () => {
    const flow = await read('?weeks=1&kind=check-and-report')
    expect(flow.stay).toMatchObject({ n: 0, all: { n: 0 }, byKind: [] })
    expect(flow.little).toMatchObject({ perDay: 0, inHandNow: 0 })
    expect(flow.little.product).toBeUndefined()
  })
})
