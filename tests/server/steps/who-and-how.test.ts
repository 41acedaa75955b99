import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import {
  agree,
  codesOf,
  handsOf,
  measureAsReceived,
  partCrank,
  pressTogether,
  SET_UP,
  secondReading,
  step,
  take,
  takeClearance,
  takeRunout,
  takeWidth,
  truedRebuild,
  turnOf,
} from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

describe('who reports a step', () => {
  test('the bench what it did, the counter the yes and the going home, each on its own side only', async () => {
    const job = await bookJob(it)
    await measureAsReceived(h, job)
    for (const to of ['measured', 'apart', 'together', 'trued', 'signed'])
      expect((await h.counter.post(`/api/jobs/${job.id}/steps`, { to })).status, to).toBe(403)
    for (const to of ['agreed', 'gone']) expect((await h.bench.post(`/api/jobs/${job.id}/steps`, { to })).status, to).toBe(403)
    expect((await h.bench.post(`/api/jobs/${job.id}/steps`, { to: 'signed' })).status).toBe(403)
    await h.counter.post(`/api/jobs/${job.id}/steps/back`, { to: 'booked', reason: 'wrong crank' }).expect(403)
    await h.bench.post(`/api/jobs/${job.id}/end`, { end: 'scrapped', reason: 'cracked' }).expect(403)
  })

  test('nobody who is not signed in, and no job that is not there', async () => {
    const job = await bookJob(it)
    const nobody = it.nobody()
    await nobody.get(`/api/jobs/${job.id}/gate`).expect(401)
    await nobody.post(`/api/jobs/${job.id}/steps`, { to: 'measured' }).expect(401)
    const other = '01930000-0000-7000-8000-00000000dead'
    await h.owner.get(`/api/jobs/${other}/gate`).expect(404)
    await h.owner.post(`/api/jobs/${other}/steps`, { to: 'measured' }).expect(404)
    await h.owner.post(`/api/jobs/${other}/end`, { end: 'scrapped', reason: 'cracked' }).expect(404)
    await h.owner.post(`/api/jobs/${job.id}/steps`, {}).expect(400)
    await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'booked' }).expect(400)
  })
})

test('a step is written into job, history and audit chain, and a yes ends the wait for a yes', async () => {
  const job = await bookJob(it)
  await measureAsReceived(h, job)
  const agreed = await agree(h, job)
  expect(agreed).toMatchObject({ state: 'agreed', waiting: [] })
  expect(agreed.version).toBeGreaterThan(job.version)
  const events = await h.counter.get(`/api/jobs/${job.id}/events`).expect(200)
  expect(events.body.rows[0]).toMatchObject({ kind: 'step', says: 'Agreed.', by: 'Hana' })
  const audit = await it.db.pool.query<{ payload: string }>(
    "SELECT payload FROM audit_row WHERE action = 'reach step' AND entity_id = $1 ORDER BY seq DESC LIMIT 1",
    [job.id],
  )
  expect(JSON.parse(audit.rows[0]?.payload ?? '')).toMatchObject({ before: { state: 'measured' }, after: { state: 'agreed' } })
})

describe('a step back', () => {
  test('is the owner’s, with a reason: what came after stays in the book, undone', async () => {
    const job = await truedRebuild(h)
    await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'together', reason: ' ' }).expect(400)
    await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'trued', reason: 'no' }).expect(409)
    const back = await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'agreed', reason: 'right web let go' }).expect(200)
    expect(back.body.state).toBe('agreed')
    expect(back.body.steps.map((reached: { step: string }) => reached.step)).toEqual(['booked', 'measured', 'agreed'])
    const rows = await it.db.pool.query('SELECT step FROM job_step WHERE job_id = $1 AND undone_at IS NOT NULL ORDER BY at', [job.id])
    expect(rows.rows.map((row) => row.step)).toEqual(['apart', 'together', 'trued'])
    const events = await h.bench.get(`/api/jobs/${job.id}/events`).expect(200)
    expect(events.body.rows[0].says).toBe('Back from true to agreed: right web let go')
    // The old partings and readings still stand, so that the same step may be reached again.
    await step(h, h.bench, job, 'apart')
  })

  test('brings back a job that was ended by mistake, no further than it stood', async () => {
    const job = await bookJob(it)
    await measureAsReceived(h, job)
    await h.counter.post(`/api/jobs/${job.id}/end`, { end: 'given-back', reason: 'they changed their mind' }).expect(200)
    expect((await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body).toEqual({ next: null, act: 'given back', missing: [] })
    await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'agreed', reason: 'they want it' }).expect(409)
    const back = await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'measured', reason: 'they want it after all' }).expect(200)
    expect(back.body.state).toBe('measured')
  })
})

describe('a weld', () => {
  test('takes back true, until both ends are read again cold', async () => {
    const job = await truedRebuild(h)
    it.clock.pass(1)
    await h.bench.post(`/api/jobs/${job.id}/welds`, { filler: '309', amps: 70 }).expect(201)
    const after = (await h.bench.get(`/api/jobs/${job.id}`).expect(200)).body
    expect(after).toMatchObject({ state: 'together', crank: { welded: true } })
    const refused = await h.bench.post(`/api/jobs/${job.id}/steps`, { to: 'trued' }).expect(409)
    expect(codesOf(refused.body)).toEqual([
      'runout-left-older-than-last-move',
      'runout-right-older-than-last-move',
      'width-older-than-last-move',
      'side-clearance-older-than-last-move',
    ])
    const events = await h.bench.get(`/api/jobs/${job.id}/events`).expect(200)
    expect(events.body.rows.slice(0, 2).map((row: { says: string }) => row.says)).toEqual([
      'Back from true to together: welded, and not read again cold yet.',
      'The pin was welded.',
    ])
    await takeWidth(h, h.bench, job, 'built')
    await takeClearance(h, h.bench, job, 'built')
    await take(h, h.bench, job, { kind: 'runout', phase: 'built', setup: { ...SET_UP, cold: false }, values: turnOf({ swingMm: 0.01 }) })
    const warm = await h.bench.post(`/api/jobs/${job.id}/steps`, { to: 'trued' }).expect(409)
    expect(codesOf(warm.body)).toEqual(['runout-left-not-cold', 'runout-right-not-cold'])
    await takeRunout(h, h.bench, job, 'built', { swingMm: 0.01 })
    await step(h, h.bench, job, 'trued')
  })

  test('before the crank is true changes no step, and a report is never welded', async () => {
    const job = await bookJob(it, { kind: 'weld-only' })
    await measureAsReceived(h, job)
    await agree(h, job)
    await h.bench.post(`/api/jobs/${job.id}/welds`, {}).expect(201)
    expect((await h.bench.get(`/api/jobs/${job.id}`).expect(200)).body.state).toBe('agreed')
    const report = await bookJob(it, { kind: 'check-and-report' })
    await h.bench.post(`/api/jobs/${report.id}/welds`, {}).expect(409)
    await h.counter.post(`/api/jobs/${job.id}/welds`, {}).expect(403)
  })
})

test('a sheet that stands lets a job be signed again after a step back', async () => {
  const job = await truedRebuild(h)
  await secondReading(h, job)
  it.clock.pass(1)
  await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
  await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'trued', reason: 'signed too early' }).expect(200)
  const again = await step(h, h.second, job, 'signed')
  expect(again.state).toBe('signed')
})

test('a rebuild cannot skip the press: together asks for everything that makes a pressed crank', async () => {
  const job = await bookJob(it)
  await measureAsReceived(h, job)
  await agree(h, job)
  await partCrank(h, job)
  const gate = await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)
  expect(codesOf(gate.body)).toEqual(['kit-lot', 'fit-left', 'fit-right', 'oil-hole', 'width', 'side-clearance'])
  await pressTogether(h, job)
  expect((await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body).toMatchObject({ next: 'trued', act: 'to true' })
})
