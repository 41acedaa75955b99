import { describe, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { startApp } from '#tests/support/app.ts'
import { agree, codesOf, handsOf, measureAsReceived, partCrank, press } from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)
const apart = { direction: 'apart', side: 'left', peakTonnes: 9.5 }

async function agreed(): Promise<Job> {
  const job = await bookJob(it)
  await measureAsReceived(h, job)
  return agree(h, job)
}

describe('a pressing', () => {
  test('is kept with its gauge, its look and its mark, and said in the history', async () => {
    const job = await agreed()
    const body = { ...apart, lubricant: 'oil', galling: 'light', crack: false, webMark: '318-V L', note: 'a loud crack of the joint' }
    const answer = await h.bench.post(`/api/jobs/${job.id}/pressings`, body).expect(201)
    expect(answer.body).toEqual({ ...body, id: expect.any(String), by: 'Jonas', occurredAt: it.clock.now.toISOString() })
    const events = await h.counter.get(`/api/jobs/${job.id}/events`).expect(200)
    expect(events.body.rows[0].says).toBe('The left web was pressed apart: 9.5 t at the peak.')
  })

  test('is the bench’s, with a peak or a reason, after a yes to the price and before it is signed', async () => {
    const job = await bookJob(it)
    await h.bench.post(`/api/jobs/${job.id}/pressings`, apart).expect(409)
    await measureAsReceived(h, job)
    await h.bench.post(`/api/jobs/${job.id}/pressings`, apart).expect(409)
    await agree(h, job)
    await h.counter.post(`/api/jobs/${job.id}/pressings`, apart).expect(403)
    await it.nobody().post(`/api/jobs/${job.id}/pressings`, apart).expect(401)
    await h.bench.post(`/api/jobs/${job.id}/pressings`, { direction: 'apart', side: 'left' }).expect(400)
    await h.bench.post(`/api/jobs/${job.id}/pressings`, { ...apart, notReadBecause: 'stuck' }).expect(400)
    await h.bench.post('/api/jobs/01930000-0000-7000-8000-00000000dead/pressings', apart).expect(404)
    await h.bench.post(`/api/jobs/${job.id}/pressings`, { direction: 'apart', side: 'left', notReadBecause: 'the gauge stuck' }).expect(201)
    const missing = (await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body.missing
    expect(missing[0]).toEqual({
      code: 'peak-tonnage-left',
      detail: 'The peak of the gauge when the left web let go was not read, because the gauge stuck.',
      pass: 'owner',
    })
    const report = await bookJob(it, { kind: 'check-and-report' })
    await measureAsReceived(h, report)
    await h.bench.post(`/api/jobs/${report.id}/pressings`, apart).expect(409)
  })

  test('struck out counts no more, stays listed, and is struck once', async () => {
    const job = await agreed()
    await partCrank(h, job)
    const { pressings } = (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body
    const { id } = pressings[0]
    await h.counter.post(`/api/pressings/${id}/strike`, { because: 'no' }).expect(403)
    await h.bench.post(`/api/pressings/${id}/strike`, {}).expect(400)
    const struck = await h.bench.post(`/api/pressings/${id}/strike`, { because: 'it was the right web' }).expect(200)
    expect(struck.body.struck).toMatchObject({ by: 'Jonas', because: 'it was the right web' })
    await h.bench.post(`/api/pressings/${id}/strike`, { because: 'again' }).expect(409)
    await h.bench.post('/api/pressings/01930000-0000-7000-8000-00000000dead/strike', { because: 'no' }).expect(404)
    const after = (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body.pressings
    expect(after).toHaveLength(2)
    await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'agreed', reason: 'wrong web' }).expect(200)
    expect(codesOf((await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body)).toEqual([
      'peak-tonnage-left',
      'look-at-bores',
      'web-marks',
    ])
  })

  test('a second parting asks for its own look at the bores', async () => {
    const job = await agreed()
    await partCrank(h, job)
    await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'agreed', reason: 'apart once more' }).expect(200)
    it.clock.pass(1)
    await h.bench.post(`/api/jobs/${job.id}/pressings`, { ...apart, peakTonnes: 6 }).expect(201)
    expect(codesOf((await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body)).toEqual(['look-at-bores'])
  })

  test('together is counted for each web over all jobs of the crank, struck ones left out', async () => {
    const first = await agreed()
    await press(h, first, { direction: 'together', side: 'left', peakTonnes: 9 })
    await press(h, first, { direction: 'together', side: 'right', peakTonnes: 9 })
    await press(h, first, { direction: 'together', side: 'right', peakTonnes: 9 })
    const { pressings } = (await h.bench.get(`/api/jobs/${first.id}/measurements`).expect(200)).body
    await h.bench.post(`/api/pressings/${pressings[2].id}/strike`, { because: 'written twice' }).expect(200)
    await h.counter.post(`/api/jobs/${first.id}/end`, { end: 'given-back', reason: 'sold' }).expect(200)
    const again = await bookJob(it, { crank: { id: first.crank.id } })
    await measureAsReceived(h, again)
    await agree(h, again)
    await press(h, again, { direction: 'together', side: 'left', peakTonnes: 8 })
    expect((await h.bench.get(`/api/jobs/${again.id}`).expect(200)).body.crank.pressedHere).toEqual({ left: 2, right: 1 })
  })
})

test('the oil hole is looked at by the bench and stands on the job', async () => {
  const job = await agreed()
  await h.counter.post(`/api/jobs/${job.id}/oil-hole`, { state: 'open' }).expect(403)
  await h.bench.post(`/api/jobs/${job.id}/oil-hole`, { state: 'ajar' }).expect(400)
  expect((await h.bench.post(`/api/jobs/${job.id}/oil-hole`, { state: 'none' }).expect(200)).body).toEqual({ state: 'none' })
  expect((await h.bench.get(`/api/jobs/${job.id}`).expect(200)).body).toMatchObject({ oilHole: 'none', version: job.version + 1 })
})
