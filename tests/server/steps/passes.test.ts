import { describe, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { startApp } from '#tests/support/app.ts'
import {
  agree,
  codesOf,
  handsOf,
  measureAsReceived,
  partCrank,
  press,
  pressTogether,
  secondReading,
  step,
  take,
  takeClearance,
  takePinAndBores,
  takeRunout,
  takeWidth,
  truedRebuild,
} from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

async function agreedRebuild(): Promise<Job> {
  const job = await bookJob(it)
  await measureAsReceived(h, job)
  return agree(h, job)
}

async function refusedTo(job: Job, to: string, passes: string[]): Promise<{ status: number; codes: string[] }> {
  it.clock.pass(1)
  const body = { to, passes: passes.map((code) => ({ code, reason: 'the owner would wish it' })) }
  const answer = await h.owner.post(`/api/jobs/${job.id}/steps`, body)
  return { status: answer.status, codes: answer.status === 409 ? codesOf(answer.body) : [] }
}

describe('a pass', () => {
  test('is the owner’s, with a reason, and stands on the job page with what it let pass', async () => {
    const job = await bookJob(it)
    await takeRunout(h, h.bench, job, 'received', { swingMm: 0.1 })
    await take(h, h.bench, job, { kind: 'width', phase: 'received', notReadBecause: 'the micrometer is away' })
    const asked = {
      to: 'measured',
      passes: [
        { code: 'width-as-received', reason: 'read on last year’s sheet', measuredBy: 'Jonas', customerToldAt: '2026-11-24T10:00:00Z' },
      ],
    }
    await h.bench.post(`/api/jobs/${job.id}/steps`, asked).expect(403)
    await h.owner.post(`/api/jobs/${job.id}/steps`, { to: 'measured', passes: [{ code: 'width-as-received', reason: ' ' }] }).expect(400)
    await h.owner.post(`/api/jobs/${job.id}/steps`, { to: 'measured', passes: [{ code: 'no-such-thing', reason: 'why not' }] }).expect(400)
    const passed = await h.owner.post(`/api/jobs/${job.id}/steps`, asked).expect(200)
    expect(passed.body).toMatchObject({
      state: 'measured',
      passes: [
        {
          step: 'measured',
          code: 'width-as-received',
          what: 'The width as received was not read, because the micrometer is away.',
          reason: 'read on last year’s sheet',
          by: 'Ewa',
          customerToldAt: '2026-11-24T10:00:00.000Z',
        },
      ],
    })
    const events = await h.bench.get(`/api/jobs/${job.id}/events`).expect(200)
    expect(events.body.rows[0].says).toBe(
      'Measured. The owner let pass: The width as received was not read, because the micrometer is away. Why: read on last year’s sheet',
    )
  })

  test('that is refused keeps nothing', async () => {
    const job = await bookJob(it)
    expect(await refusedTo(job, 'measured', ['width-as-received'])).toEqual({
      status: 409,
      codes: ['runout-left-as-received', 'runout-right-as-received'],
    })
    expect((await h.owner.get(`/api/jobs/${job.id}`).expect(200)).body.passes).toEqual([])
  })

  test('does not count for a figure that was read after it', async () => {
    const job = await agreedRebuild()
    await partCrank(h, job)
    await pressTogether(h, job)
    await takeRunout(h, h.bench, job, 'built', { swingMm: 0.0264 })
    await takeWidth(h, h.bench, job, 'built')
    await takeClearance(h, h.bench, job, 'built')
    const over = ['runout-left-over-house-inside-maker', 'runout-right-over-house-inside-maker']
    expect(codesOf((await h.bench.post(`/api/jobs/${job.id}/steps`, { to: 'trued' }).expect(409)).body)).toEqual(over)
    expect((await refusedTo(job, 'trued', over)).status).toBe(200)
    await takeRunout(h, h.bench, job, 'built', { swingMm: 0.026 })
    await secondReading(h, job, { swingMm: 0.026 })
    const gate = await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)
    expect(codesOf(gate.body)).toContain('runout-left-over-house-inside-maker')
  })

  test('given at one gate excuses the same at the next, and a step back ends it', async () => {
    const job = await agreedRebuild()
    await partCrank(h, job)
    await pressTogether(h, job)
    await takeRunout(h, h.bench, job, 'built', { swingMm: 0.025 })
    await takeWidth(h, h.bench, job, 'built')
    await takeClearance(h, h.bench, job, 'built')
    const codes = ['runout-left-over-house-inside-maker', 'runout-right-over-house-inside-maker']
    expect((await refusedTo(job, 'trued', codes)).status).toBe(200)
    expect(codesOf((await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)).body)).toEqual(['second-reading', 'certificate'])
    it.clock.pass(1)
    await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'together', reason: 'one more try' }).expect(200)
    expect(codesOf((await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)).body)).toEqual(codes)
  })

  test('at the last gate is written down before the sheet that prints it', async () => {
    const job = await truedRebuild(h)
    await secondReading(h, job)
    const gauge = await h.owner
      .post('/api/instruments', { name: 'micrometer 9', kind: 'micrometer', stepMm: 0.01, dueOn: '2026-11-20' })
      .expect(201)
    await take(h, h.bench, job, {
      kind: 'width',
      phase: 'second',
      instrumentId: gauge.body.id,
      values: ['0', '90', '180', '270'].map((place) => ({ place, mm: 64 })),
    })
    it.clock.pass(1)
    const refused = await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(409)
    expect(codesOf(refused.body)).toContain('instrument-overdue')
    await h.owner.post(`/api/jobs/${job.id}/steps`, { to: 'signed' }).expect(409)
    await h.owner.post(`/api/jobs/${job.id}/steps`, { to: 'signed', passes: [{ code: 'certificate', reason: 'no paper' }] }).expect(409)
    const passes = [{ code: 'instrument-overdue', reason: 'checked on the rod this morning' }]
    await h.second.post(`/api/jobs/${job.id}/steps`, { to: 'signed', passes }).expect(403)
    const still = await h.owner.post(`/api/jobs/${job.id}/steps`, { to: 'signed', passes }).expect(200)
    expect(still.body).toMatchObject({ state: 'trued', passes: [{ step: 'signed', code: 'instrument-overdue' }] })
    it.clock.pass(1)
    await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
    expect((await h.second.get(`/api/jobs/${job.id}`).expect(200)).body.state).toBe('signed')
  })
})

describe('nobody lets pass', () => {
  test('a crack, at the gate where it is seen', async () => {
    const job = await agreedRebuild()
    await press(h, job, { direction: 'apart', side: 'left', peakTonnes: 9.5, webMark: 'L', crack: true })
    await press(h, job, { direction: 'apart', side: 'right', peakTonnes: 5, webMark: 'R' })
    expect(await refusedTo(job, 'apart', ['crack'])).toEqual({ status: 409, codes: ['crack'] })
    const gate = await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)
    expect(gate.body.missing).toEqual([
      { code: 'crack', detail: 'There is a crack in a web. Another half, or scrap it: nobody can let this pass.', pass: 'never' },
    ])
  })

  test('a crack found later, at every gate after it, until another half is put in', async () => {
    const job = await truedRebuild(h)
    await press(h, job, { direction: 'together', side: 'right', peakTonnes: 9, crack: true })
    const gate = await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)
    expect(codesOf(gate.body)).toContain('crack')
    await press(h, job, { direction: 'together', side: 'right', peakTonnes: 9 })
    expect(codesOf((await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)).body)).not.toContain('crack')
  })

  test('a fit under the scrap floor of 0.0022 × pin Ø (common practice, no source): 0.077 for Ø 35', async () => {
    const job = await agreedRebuild()
    await partCrank(h, job)
    await takePinAndBores(h, job, { left: 0.109, right: 0.0769 })
    const { codes } = await refusedTo(job, 'together', ['fit-right-under-scrap-floor'])
    expect(codes).toContain('fit-right-under-scrap-floor')
    await takePinAndBores(h, job, { left: 0.109, right: 0.077 })
    const at = codesOf((await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)).body)
    expect(at).not.toContain('fit-right-under-scrap-floor')
    expect(at).toContain('fit-right-below-shop-floor')
  })

  test('a masked oil hole', async () => {
    const job = await agreedRebuild()
    await partCrank(h, job)
    await h.bench.post(`/api/jobs/${job.id}/oil-hole`, { state: 'masked' }).expect(200)
    const { codes } = await refusedTo(job, 'together', ['oil-hole-masked', 'oil-hole'])
    expect(codes).toContain('oil-hole-masked')
    await h.bench.post(`/api/jobs/${job.id}/oil-hole`, { state: 'open' }).expect(200)
    expect(codesOf((await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)).body)).not.toContain('oil-hole-masked')
  })
})

test('a job that is let go unpaid on the owner’s word goes', async () => {
  const job = await truedRebuild(h)
  await secondReading(h, job)
  it.clock.pass(1)
  await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
  await h.owner.put(`/api/jobs/${job.id}/box`, { items: [], ownersWord: 'an old hand, pays on Friday' }, 0).expect(200)
  expect((await step(h, h.counter, job, 'gone')).state).toBe('gone')
})
