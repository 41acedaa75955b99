import { describe, expect, test } from 'vitest'
import type { Comeback, SinceHome } from '#contract/comebacks.ts'
import type { Booking, Job } from '#contract/jobs.ts'
import { startApp } from '#tests/support/app.ts'
import { handsOf, takeClearance, takeRunout, takeWidth } from '#tests/support/bench-factories.ts'
import { goneJob, goneRebuild, reportTold, sendHome } from '#tests/support/comeback-factories.ts'
import { bookingOf, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

const again = (job: Job, more: Partial<Booking> = {}): Promise<Booking> =>
  bookingOf(it, { crank: { id: job.crank.id }, comebackOf: job.id, comebackWhy: 'noise at 41 h', hours: 41, hoursHow: 'metered', ...more })

const sinceOf = async (id: string): Promise<SinceHome> => (await h.counter.get(`/api/jobs/${id}/since-home`).expect(200)).body

async function reportsOf(jobId: string): Promise<number> {
  return (await it.db.pool.query('SELECT count(*)::int AS n FROM comeback WHERE job_id = $1', [jobId])).rows[0].n
}

describe('booking in again as a comeback', () => {
  test('writes the report in the same act: returned, on that day, with the hours and the words of the booking', async () => {
    const first = await goneJob(it, '2026-03-02')
    const second = (await h.counter.post('/api/jobs', await again(first)).expect(201)).body as Job
    const { report } = await sinceOf(first.id)
    expect(report).toMatchObject({
      job: { id: first.id },
      newJob: { id: second.id, tag: second.tag, state: 'booked' },
      day: '2026-11-24',
      how: 'returned',
      hours: 41,
      hoursHow: 'metered',
      says: 'noise at 41 h',
      reportedBy: 'Hana',
      counts: true,
    })
    expect((await sinceOf(second.id)).hereFor).toEqual(report)
    const audit = await it.db.pool.query("SELECT action FROM audit_row WHERE entity = 'comeback' AND entity_id = $1", [report!.id])
    expect(audit.rows).toEqual([{ action: 'report comeback' }])
  })

  test('with hours that were said to be known and were not given, the hours of the report are not known', async () => {
    const first = await goneJob(it, '2026-03-02')
    await h.counter.post('/api/jobs', await again(first, { hours: undefined, hoursHow: 'declared' })).expect(201)
    const { report } = await sinceOf(first.id)
    expect(report?.hoursHow).toBe('unknown')
    expect(report).not.toHaveProperty('hours')
  })

  test('joins the report that stands since they told of it', async () => {
    const first = await goneJob(it, '2026-03-02')
    const told = await reportTold(h.counter, first, { day: '2026-11-20', hours: undefined, hoursHow: 'unknown' })
    const second = (await h.counter.post('/api/jobs', await again(first)).expect(201)).body as Job
    expect((await sinceOf(first.id)).report).toMatchObject({
      id: told.id,
      how: 'told',
      day: '2026-11-20',
      says: 'knocks when warm',
      hours: 41,
      hoursHow: 'metered',
      newJob: { id: second.id },
    })
    expect(await reportsOf(first.id)).toBe(1)
    // What was known already stays.
    const other = await goneJob(it, '2026-03-02')
    await reportTold(h.counter, other, { hours: 12, hoursHow: 'declared' })
    await h.counter.post('/api/jobs', await again(other)).expect(201)
    expect((await sinceOf(other.id)).report).toMatchObject({ hours: 12, hoursHow: 'declared' })
  })

  test('is refused where it came back already: what comes now is a comeback of that later job', async () => {
    const first = await goneJob(it, '2026-03-02')
    const second = (await h.counter.post('/api/jobs', await again(first)).expect(201)).body as Job
    await sendHome(it, second, '2026-11-24')
    const refused = await h.counter.post('/api/jobs', await again(first))
    expect([refused.status, refused.body.errors[0]]).toEqual([
      400,
      {
        pointer: '/comebackOf',
        code: 'came-back-already',
        detail: `${first.tag} came back already, as ${second.tag}. What comes now is a comeback of that one.`,
      },
    ])
    await h.counter.post('/api/jobs', await again(first, { comebackOf: second.id })).expect(201)
    expect((await sinceOf(second.id)).report?.how).toBe('returned')
  })

  test('writes no report where the booking fails', async () => {
    const first = await goneJob(it, '2026-03-02')
    const taken = await bookJob(it)
    await h.counter.post('/api/jobs', await again(first, { id: taken.id })).expect(409)
    expect(await reportsOf(first.id)).toBe(0)
  })

  test('a report struck out and written again finds the job that is here for it', async () => {
    const first = await goneJob(it, '2026-03-02')
    const second = (await h.counter.post('/api/jobs', await again(first)).expect(201)).body as Job
    const { report } = await sinceOf(first.id)
    await h.counter.post(`/api/comebacks/${report!.id}/strike`, { reason: 'wrong day' }).expect(200)
    expect((await sinceOf(second.id)).hereFor).toBeUndefined()
    const anew = await reportTold(h.counter, first, { how: 'returned', day: '2026-11-23' })
    expect((await sinceOf(second.id)).hereFor?.id).toBe(anew.id)
  })
})

test('beside the report stands our sheet of then, and what the crank reads now that it is here', async () => {
  const first = await goneRebuild(h)
  await sendHome(it, first, '2026-10-15')
  const second = (await h.counter.post('/api/jobs', await again(first, { oil: '60:1' })).expect(201)).body as Job
  const { report } = await sinceOf(first.id)
  const read = async (): Promise<Comeback> => (await h.second.get(`/api/comebacks/${report!.id}`).expect(200)).body
  const before = await read()
  expect(before).toMatchObject({
    builders: ['Jonas'],
    kit: { maker: 'Ardenlow', part: 'R449-4X-K1', lot: 'A-2417', whose: 'ours' },
    daysSince: 40,
  })
  expect(before.sheet).toMatchObject({
    number: '0001',
    stands: 'stands',
    fit: { left: '0.109', right: '0.112' },
    checkedBy: 'Marek',
    signedBy: 'Marek',
    passes: [],
  })
  const [left, right, width, clearance] = before.sheet!.lines
  // The sheet's own figures: both ends swing 0.010, all of it about the pin; width and side clearance as the hands took them.
  expect([left, right]).toMatchObject([
    { end: 'left', what: 'Left end, full swing', allowed: '0.020', verdict: 'within', past: false },
    { end: 'right', what: 'Right end, full swing', allowed: '0.020', verdict: 'within', past: false },
  ])
  expect([width, clearance]).toMatchObject([
    { what: 'Width over webs', said: '64.01', allowed: '63.95 – 64.05' },
    { what: 'Rod side clearance', said: '0.36', allowed: '0.25 – 0.50' },
  ])
  for (const line of before.sheet!.lines) expect(line).not.toHaveProperty('now')

  await takeRunout(h, h.second, second, 'received', { swingMm: 0.011 })
  await takeWidth(h, h.second, second, 'received', [63.99, 64.01, 64.06, 64])
  await takeClearance(h, h.second, second, 'received', 0.21)
  const after = (await read()).sheet!.lines
  expect(after.slice(0, 2).map((line) => line.repeats)).toEqual([true, true])
  expect(after.slice(2, 4).map((line) => line.now)).toEqual(['63.99 to 64.06', '0.21'])
  await takeRunout(h, h.second, second, 'received', { swingMm: 0.2 })
  expect((await read()).sheet!.lines.slice(0, 2).map((line) => line.repeats)).toEqual([false, false])
})
