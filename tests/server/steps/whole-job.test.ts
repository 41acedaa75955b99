import { expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { startApp } from '#tests/support/app.ts'
import {
  agree,
  codesOf,
  handsOf,
  measureAsReceived,
  secondReading,
  step,
  takeRunout,
  trueCrank,
  truedRebuild,
} from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

test('a rebuild goes from booked to gone, each step by the side of the shop whose step it is', async () => {
  const job = await truedRebuild(h)
  expect(job.state).toBe('trued')
  await secondReading(h, job)
  it.clock.pass(1)
  await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
  const gate = await h.counter.get(`/api/jobs/${job.id}/gate`).expect(200)
  expect(gate.body).toMatchObject({ next: 'gone', act: 'ready to go home' })
  expect(gate.body.missing.map((one: { code: string }) => one.code)).toEqual(['box-list', 'paid'])
  await h.counter.put(`/api/jobs/${job.id}/box`, { items: [] }, 0).expect(200)
  await h.counter.post(`/api/jobs/${job.id}/payments`, { amountMinor: 26_800, what: 'payment', how: 'card' }).expect(201)
  const gone: Job = await step(h, h.counter, job, 'gone')
  expect(gone.steps.map((reached) => [reached.step, reached.by])).toEqual([
    ['booked', 'Maker'],
    ['measured', 'Jonas'],
    ['agreed', 'Hana'],
    ['apart', 'Jonas'],
    ['together', 'Jonas'],
    ['trued', 'Jonas'],
    ['signed', 'Marek'],
    ['gone', 'Hana'],
  ])
  expect((await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body).toEqual({ next: null, act: 'out running', missing: [] })
})

test('a true-only goes from agreed to true without the press', async () => {
  const job = await bookJob(it, { kind: 'true-only', whyNow: 'out-of-true' })
  await measureAsReceived(h, job)
  await agree(h, job, 9000)
  await trueCrank(h, job)
  await secondReading(h, job)
  it.clock.pass(1)
  await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
  expect((await h.second.get(`/api/jobs/${job.id}`).expect(200)).body.state).toBe('signed')
})

test('a weld-only is not true before its weld is written down', async () => {
  const job = await bookJob(it, { kind: 'weld-only' })
  await measureAsReceived(h, job)
  await agree(h, job, 12_000)
  expect((await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body.act).toBe('to weld and true')
  await expect(trueCrank(h, job)).rejects.toThrow('"code":"weld"')
  it.clock.pass(1)
  await h.bench.post(`/api/jobs/${job.id}/welds`, { filler: '309', amps: 70 }).expect(201)
  expect((await trueCrank(h, job)).state).toBe('trued')
})

test('a report needs no limit met and no price: measured, read a second time, signed', async () => {
  const job = await bookJob(it, { kind: 'check-and-report' })
  await measureAsReceived(h, job, { swingMm: 0.3 })
  expect((await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body).toMatchObject({ next: 'signed', act: 'second check' })
  await takeRunout(h, h.second, job, 'second', { swingMm: 0.301 })
  const gate = await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)
  expect(codesOf(gate.body)).toEqual(['certificate'])
  it.clock.pass(1)
  await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
  await h.counter.put(`/api/jobs/${job.id}/box`, { items: [] }, 0).expect(200)
  expect((await step(h, h.counter, job, 'gone')).state).toBe('gone')
})
