import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { handsOf, measureAsReceived, SET_UP, truedRebuild, turnOf } from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

/** The same act sent twenty times at once, then until it is answered: every answer is the one that was stored, or “not finished”. */
async function twentyTimes(address: string, body: object, key: string) {
  const answers = await Promise.all(Array.from({ length: 20 }, () => h.bench.post(address, body, key)))
  for (const answer of answers) expect([200, 201, 409]).toContain(answer.status)
  for (const answer of answers.filter((one) => one.status === 409)) expect(answer.body.type).toBe('/problems/idempotency-in-progress')
  const last = await h.bench.post(address, body, key)
  for (const answer of answers.filter((one) => one.status < 300)) expect(answer.body).toEqual(last.body)
  expect(last.headers.replayed).toBe('yes')
  return last
}

describe('the same key twenty times at once does it once', () => {
  test('a set of readings', async () => {
    const job = await bookJob(it)
    const body = { kind: 'runout', phase: 'received', setup: SET_UP, instrumentId: h.dial.id, values: turnOf({ swingMm: 0.1 }) }
    const { body: set } = await twentyTimes(`/api/jobs/${job.id}/measurements`, body, 'readings-once-0001')
    const { measurements } = (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body
    expect(measurements).toEqual([set])
    const events = (await h.bench.get(`/api/jobs/${job.id}/events`).expect(200)).body.rows
    expect(events.filter((event: { kind: string }) => event.kind === 'read')).toHaveLength(1)
  })

  test('a step', async () => {
    const job = await bookJob(it)
    await measureAsReceived(h, job)
    const back = await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'booked', reason: 'look again' }).expect(200)
    it.clock.pass(1)
    const { body } = await twentyTimes(`/api/jobs/${job.id}/steps`, { to: 'measured' }, 'step-once-00000001')
    expect(body.version).toBe(back.body.version + 1)
    const rows = await it.db.pool.query("SELECT 1 FROM job_step WHERE job_id = $1 AND step = 'measured' AND undone_at IS NULL", [job.id])
    expect(rows.rowCount).toBe(1)
  })

  test('a clock', async () => {
    const job = await bookJob(it)
    await twentyTimes('/api/clock/start', { jobId: job.id, work: 'truing' }, 'clock-once-0000001')
    const rows = await it.db.pool.query('SELECT 1 FROM clock_entry WHERE job_id = $1', [job.id])
    expect(rows.rowCount).toBe(1)
    await h.bench.post('/api/clock/stop', {}).expect(200)
  })

  test('a weld takes a job back once', async () => {
    const job = await truedRebuild(h)
    it.clock.pass(1)
    await twentyTimes(`/api/jobs/${job.id}/welds`, { amps: 70 }, 'weld-once-00000001')
    expect((await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body.welds).toHaveLength(1)
    const events = (await h.bench.get(`/api/jobs/${job.id}/events`).expect(200)).body.rows
    expect(events.filter((event: { kind: string }) => event.kind === 'step-back')).toHaveLength(1)
  })
})

test('twenty hands that report the same step at once make one step', async () => {
  const job = await bookJob(it)
  await measureAsReceived(h, job)
  await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'booked', reason: 'look again' }).expect(200)
  it.clock.pass(1)
  const answers = await Promise.all(Array.from({ length: 20 }, () => h.bench.post(`/api/jobs/${job.id}/steps`, { to: 'measured' })))
  expect(answers.filter((answer) => answer.status === 200)).toHaveLength(1)
  for (const answer of answers.filter((one) => one.status !== 200)) {
    expect(answer.status).toBe(409)
    expect(answer.body.type).toBe('/problems/conflict-state')
  }
})

test('an act needs a key, the same key with another body is refused, and the same id is not written twice', async () => {
  const job = await bookJob(it)
  const body = { id: '01930000-0000-7000-8000-00000000abcd', kind: 'width', phase: 'received', values: [{ place: '0', mm: 64 }] }
  const address = `/api/jobs/${job.id}/measurements`
  const bare = await h.bench.post(address, body).unset('idempotency-key')
  expect(bare.body.type).toBe('/problems/idempotency-key-missing')
  await h.bench.post(address, body, 'one-key-of-mine').expect(201)
  await h.bench.post(address, { ...body, note: 'else' }, 'one-key-of-mine').expect(422)
  await h.bench.post(address, body, 'another-key-of-mine').expect(409)
})
