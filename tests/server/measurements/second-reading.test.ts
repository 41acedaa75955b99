import { describe, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import type { Measurement } from '#contract/measurements.ts'
import type { Check } from '#contract/truing.ts'
import { type Agent, startApp } from '#tests/support/app.ts'
import {
  codesOf,
  handsOf,
  measureAsReceived,
  SET_UP,
  secondReading,
  takeRunout,
  truedRebuild,
  turnOf,
} from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)
const third = await it.as('bench', { name: 'Third' })

async function firstSetSeenBy(job: Job, agent: Agent): Promise<Measurement> {
  const { measurements } = (await agent.get(`/api/jobs/${job.id}/measurements`).expect(200)).body as { measurements: Measurement[] }
  return measurements.findLast((set) => set.kind === 'runout' && set.phase === 'built')!
}

async function checkSeenBy(job: Job, agent: Agent): Promise<Check> {
  return (await agent.get(`/api/jobs/${job.id}/check`).expect(200)).body as Check
}

async function missing(job: Job): Promise<string[]> {
  return codesOf((await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)).body)
}

describe('the second reading', () => {
  test('is another hand’s, at the same places, of both ends', async () => {
    const job = await truedRebuild(h)
    const post = (agent: Agent, body: object = {}) =>
      agent.post(`/api/jobs/${job.id}/measurements`, {
        kind: 'runout',
        phase: 'second',
        setup: SET_UP,
        instrumentId: h.dial.id,
        values: turnOf({ swingMm: 0.01 }),
        ...body,
      })
    expect(await checkSeenBy(job, h.bench)).toMatchObject({
      mayRead: false,
      because: expect.stringContaining('You took the first reading'),
    })
    expect((await post(h.bench)).status).toBe(409)
    const elsewhere = await post(h.second, { setup: { ...SET_UP, dialLeftMm: 40 } })
    expect(elsewhere.body.errors).toEqual([expect.objectContaining({ pointer: '/setup/dialLeftMm', code: 'other-place' })])
    const otherwise = await post(h.second, { setup: { ...SET_UP, held: 'centres' } })
    expect(otherwise.body.errors).toEqual([expect.objectContaining({ pointer: '/setup/held', code: 'other-place' })])
    const half = await post(h.second, { values: turnOf({}).filter((value) => value.place.startsWith('left')) })
    expect(half.body.errors).toEqual([expect.objectContaining({ pointer: '/values', code: 'both-ends' })])
    expect((await post(h.second, { values: [], notReadBecause: 'dial 4 fell' })).status).toBe(403)
    expect((await post(h.second, { phase: 'third' })).status).toBe(409)
    it.clock.pass(1)
    expect((await post(h.second)).status).toBe(201)
    expect((await post(third)).status).toBe(409)
  })

  test('comes only when the crank is true', async () => {
    const job = await bookJob(it)
    await measureAsReceived(h, job)
    const early = await h.second.post(`/api/jobs/${job.id}/measurements`, {
      kind: 'runout',
      phase: 'second',
      setup: SET_UP,
      values: turnOf({}),
    })
    expect(early.status).toBe(409)
    expect(await checkSeenBy(job, h.second)).toMatchObject({ mayRead: false, next: null })
  })

  test('that agrees within √2 × the give-or-take settles it (GUM 5.1)', async () => {
    const job = await truedRebuild(h, { swingMm: 0.008 })
    await secondReading(h, job, { swingMm: 0.012 })
    expect(await checkSeenBy(job, h.bench)).toMatchObject({
      next: null,
      agree: true,
      says: ['Both readings agree within what the dials can tell.'],
    })
    expect(await missing(job)).toEqual(['certificate'])
  })

  test('that is too far off asks either of the two for a third, and all three are kept', async () => {
    const job = await truedRebuild(h, { swingMm: 0 })
    await secondReading(h, job, { swingMm: 0.012 })
    const seen = await checkSeenBy(job, h.second)
    expect(seen).toMatchObject({ next: 'third', mayRead: true, agree: false })
    expect(seen.says).toEqual([
      expect.stringMatching(
        /^The left end read 0.000 first and 0.012 the second time: more apart than the give-or-take allows. A third set settles it.$/,
      ),
      expect.stringMatching(/^The right end read 0.000 first and 0.014 the second time/),
    ])
    expect(await missing(job)).toEqual(['readings-differ-left', 'readings-differ-right', 'certificate'])
    expect(await checkSeenBy(job, third)).toMatchObject({ next: 'third', mayRead: false })
    const again = await third.post(`/api/jobs/${job.id}/measurements`, {
      kind: 'runout',
      phase: 'third',
      setup: SET_UP,
      values: turnOf({}),
    })
    expect(again.status).toBe(409)
    await takeRunout(h, h.bench, job, 'third', { swingMm: 0.011 })
    expect(await checkSeenBy(job, h.bench)).toMatchObject({
      next: null,
      agree: true,
      says: ['Two of the three readings agree within what the dials can tell.'],
      third: { by: 'Jonas' },
    })
    expect(await missing(job)).toEqual(['certificate'])
  })

  test('and a third that agrees with neither settle nothing', async () => {
    const job = await truedRebuild(h, { swingMm: 0 })
    await secondReading(h, job, { swingMm: 0.012 })
    await takeRunout(h, h.second, job, 'third', { swingMm: 0.03 })
    expect(await missing(job)).toEqual(['third-set-settles-nothing', 'certificate'])
    expect(await checkSeenBy(job, h.second)).toMatchObject({ next: null, agree: false })
  })

  test('taken again after the first was seen is said to have seen it', async () => {
    const job = await truedRebuild(h)
    const wrong = await secondReading(h, job, { swingMm: 0.05 })
    it.clock.pass(1)
    await h.second.post(`/api/measurements/${wrong.id}/strike`, { because: 'the dial slipped' }).expect(200)
    await secondReading(h, job, { swingMm: 0.01 })
    expect(await missing(job)).toEqual(['second-reading-saw-the-first', 'certificate'])
  })

  test('once in lets no new first reading follow, until a blow makes the crank another one', async () => {
    const job = await truedRebuild(h)
    await secondReading(h, job, { swingMm: 0.03 })
    const built = { kind: 'runout', phase: 'built', setup: SET_UP, instrumentId: h.dial.id, values: turnOf({ swingMm: 0.028 }) }
    it.clock.pass(1)
    await h.bench.post(`/api/jobs/${job.id}/measurements`, built).expect(409)
    const beforeId = (await firstSetSeenBy(job, h.bench)).id
    await h.bench.post(`/api/jobs/${job.id}/moves`, { beforeId, action: 'strike', half: 'left', atDeg: 270, asAdvised: false }).expect(201)
    expect(await checkSeenBy(job, h.second)).toMatchObject({ agree: false })
    it.clock.pass(1)
    await h.bench.post(`/api/jobs/${job.id}/measurements`, built).expect(201)
    expect(await checkSeenBy(job, h.second)).toMatchObject({ next: 'second', mayRead: true, first: { hidden: true } })
    expect(await firstSetSeenBy(job, h.second)).toMatchObject({ hidden: true })
  })

  test('waits while the crank was struck after its last reading', async () => {
    const job = await truedRebuild(h)
    const beforeId = (await firstSetSeenBy(job, h.bench)).id
    it.clock.pass(1)
    await h.second.post(`/api/jobs/${job.id}/moves`, { beforeId, action: 'squeeze', asAdvised: false }).expect(400)
    await h.bench.post(`/api/jobs/${job.id}/moves`, { beforeId, action: 'squeeze', asAdvised: false }).expect(201)
    expect(await checkSeenBy(job, h.second)).toMatchObject({ mayRead: false, because: expect.stringContaining('moved after') })
    const answer = await h.second.post(`/api/jobs/${job.id}/measurements`, {
      kind: 'runout',
      phase: 'second',
      setup: SET_UP,
      values: turnOf({}),
    })
    expect(answer.status).toBe(409)
  })

  test('a hidden set is struck out by nobody who cannot see it', async () => {
    const job = await truedRebuild(h)
    const first = await firstSetSeenBy(job, h.bench)
    await h.second.post(`/api/measurements/${first.id}/strike`, { because: 'looks odd' }).expect(409)
    await h.bench.post(`/api/measurements/${first.id}/strike`, { because: 'the dial slipped' }).expect(200)
    // Struck out it would still give the reading away that takes its place.
    expect(await firstSetSeenBy(job, h.second)).toMatchObject({ hidden: true, values: [], struck: { because: 'the dial slipped' } })
  })

  test('in a shop of one may be the builder’s own, where the setting says so', async () => {
    const job = await truedRebuild(h)
    const settings = (await h.owner.get('/api/settings').expect(200)).body
    const { version, ...rest } = settings
    await h.owner.put('/api/settings', { ...rest, samePersonMayCheck: true }, version).expect(200)
    expect(await checkSeenBy(job, h.bench)).toMatchObject({ mayRead: true, next: 'second' })
    await takeRunout(h, h.bench, job, 'second', { swingMm: 0.011 })
    expect(await missing(job)).toEqual(['certificate'])
    await h.owner.put('/api/settings', { ...rest, samePersonMayCheck: false }, version + 1).expect(200)
    expect(await missing(job)).toEqual(['second-reading-by-the-same-person', 'certificate'])
  })
})
