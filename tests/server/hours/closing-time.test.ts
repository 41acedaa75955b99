import { describe, expect, test } from 'vitest'
import type { ClockEntry } from '#contract/hours.ts'
import type { Job } from '#contract/jobs.ts'
import { type Agent, startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const owner = await it.as('owner')

async function start(agent: Agent, job: Job, work: string, more: object = {}): Promise<ClockEntry> {
  return (await agent.post('/api/clock/start', { jobId: job.id, work, ...more }).expect(201)).body as ClockEntry
}

async function clockOf(agent: Agent): Promise<{ running: ClockEntry | null; unanswered: ClockEntry[] }> {
  return (await agent.get('/api/clock').expect(200)).body
}

/** Moves the clock of the shop; nobody is signed out by the jump. */
async function moveTo(moment: Date): Promise<void> {
  it.clock.now = moment
  await it.db.pool.query('UPDATE session SET last_seen_at = $1', [moment])
}

async function setShop(change: object): Promise<void> {
  const { version, ...settings } = (await owner.get('/api/settings').expect(200)).body
  await owner.put('/api/settings', { ...settings, ...change }, version).expect(200)
}

describe('closing time', () => {
  test('stops a clock that nobody stopped, marked, and its person is asked next morning', async () => {
    await setShop({ zone: 'Europe/Berlin', closingTime: '17:00' })
    const bench = await it.as('bench', { name: 'Jonas' })
    const job = await bookJob(it)
    await moveTo(new Date('2026-12-01T15:30:00Z'))
    const entry = await start(bench, job, 'truing')
    await moveTo(new Date('2026-12-01T16:00:00Z'))
    expect((await clockOf(bench)).running?.id).toBe(entry.id)
    await moveTo(new Date('2026-12-02T06:40:00Z'))
    const asked = await clockOf(bench)
    // 17:00 in Berlin in winter is 16:00 UTC.
    expect(asked).toEqual({
      running: null,
      unanswered: [{ ...entry, stoppedAt: '2026-12-01T16:00:00.000Z', stoppedHow: 'closing-time', hours: 0.5, version: 2 }],
    })
    await bench.post('/api/clock/stop', {}).expect(409)
    const put = { startedAt: entry.startedAt, stoppedAt: '2026-12-01T17:15:00Z', why: 'stayed on to finish' }
    const right = await bench.patch(`/api/hours/${entry.id}`, put, 2).expect(200)
    expect(right.body).toMatchObject({
      hours: 1.75,
      stoppedHow: 'closing-time',
      corrected: { by: 'Jonas', wasStoppedAt: '2026-12-01T16:00:00.000Z' },
    })
    expect((await clockOf(bench)).unanswered).toEqual([])
  })

  test.each([
    ['before the clocks go back', '2026-10-24T14:00:00Z', '2026-10-24T15:00:00.000Z'],
    ['on the day the clocks went back', '2026-10-25T14:00:00Z', '2026-10-25T16:00:00.000Z'],
    ['on the day the clocks went forward', '2027-03-28T14:00:00Z', '2027-03-28T15:00:00.000Z'],
    ['for a clock that was started after it, at the end of that day', '2026-12-01T18:00:00Z', '2026-12-01T23:00:00.000Z'],
  ])('is the time of the shop %s', async (_when, startedAt, stoppedAt) => {
    await setShop({ zone: 'Europe/Berlin', closingTime: '17:00' })
    const bench = await it.as('bench')
    const job = await bookJob(it)
    await moveTo(new Date(startedAt))
    await start(bench, job, 'truing')
    await moveTo(new Date(new Date(startedAt).getTime() + 40 * 3_600_000))
    expect((await clockOf(bench)).unanswered.map((entry) => entry.stoppedAt)).toEqual([stoppedAt])
  })

  test('is kept by whoever looks at the job or starts the next clock, once', async () => {
    await setShop({ zone: 'UTC', closingTime: '18:00' })
    const [jonas, marek] = [await it.as('bench', { name: 'Jonas' }), await it.as('bench', { name: 'Marek' })]
    const job = await bookJob(it)
    await moveTo(new Date('2026-12-03T17:00:00Z'))
    await start(jonas, job, 'truing')
    const mareks = await start(marek, job, 'checking')
    await moveTo(new Date('2026-12-04T08:00:00Z'))
    const next = await start(marek, job, 'checking')
    expect(next.startedAt).toBe('2026-12-04T08:00:00.000Z')
    expect((await clockOf(marek)).unanswered.map((entry) => entry.id)).toEqual([mareks.id])
    const looks = await Promise.all(Array.from({ length: 6 }, () => owner.get(`/api/jobs/${job.id}/hours`)))
    for (const look of looks) {
      expect(look.status).toBe(200)
      expect(look.body.entries.find((entry: ClockEntry) => entry.person === 'Jonas')).toMatchObject({
        stoppedAt: '2026-12-03T18:00:00.000Z',
        stoppedHow: 'closing-time',
        version: 2,
      })
    }
    const audit = await it.db.pool.query("SELECT 1 FROM audit_row WHERE action = 'stop clock at closing time' AND entity_id IN ($1, $2)", [
      mareks.id,
      looks[0]?.body.entries.find((entry: ClockEntry) => entry.person === 'Jonas').id,
    ])
    expect(audit.rowCount).toBe(2)
  })

  test('does not undo a stop that was made in time and reached the book late', async () => {
    await setShop({ zone: 'UTC', closingTime: '18:00' })
    const bench = await it.as('bench')
    const job = await bookJob(it)
    await moveTo(new Date('2026-12-07T16:00:00Z'))
    await start(bench, job, 'truing')
    await moveTo(new Date('2026-12-08T07:00:00Z'))
    const stopped = await bench.post('/api/clock/stop', { occurredAt: '2026-12-07T17:30:00Z' }).expect(200)
    expect(stopped.body).toMatchObject({ stoppedHow: 'hand', hours: 1.5 })
  })
})
