import { expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { startApp } from '#tests/support/app.ts'
import { handsOf, secondReading, step, truedRebuild } from '#tests/support/bench-factories.ts'

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
