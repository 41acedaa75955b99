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

describe('the first reading', () => {
  test('is hidden from everybody but the hand that took it, until the second is in', async () => {
    const job = await truedRebuild(h)
    for (const agent of [h.second, h.owner, h.counter]) {
      const set = await firstSetSeenBy(job, agent)
      expect(set).toMatchObject({ hidden: true, values: [], by: 'Jonas', setup: SET_UP })
      expect(set).not.toHaveProperty('runout')
    }
    expect((await firstSetSeenBy(job, h.bench)).runout?.left?.tirMm).toBeGreaterThan(0)
    await secondReading(h, job)
    for (const agent of [h.second, h.owner, h.counter, h.bench]) {
      const set = await firstSetSeenBy(job, agent)
      expect(set).not.toHaveProperty('hidden')
      expect(set.values).toHaveLength(10)
    }
  })

  test('is hidden on the truing bench and at the check too, and what the last move came to with it', async () => {
    const job = await truedRebuild(h)
    const seen = (await h.second.get(`/api/jobs/${job.id}/truing`).expect(200)).body
    expect(seen.sets.at(-1)).toEqual({ id: expect.any(String), phase: 'built', at: expect.any(String), by: 'Jonas', hidden: true })
    expect(seen.last).toMatchObject({ hidden: true, values: [] })
    expect(seen).not.toHaveProperty('advice')
    expect(seen).not.toHaveProperty('figures')
    expect(seen.moves[0]).not.toHaveProperty('came')
    const own = (await h.bench.get(`/api/jobs/${job.id}/truing`).expect(200)).body
    expect(own.moves[0].came.leftTirMm).toBe(own.figures.left.tirMm)
    expect(await checkSeenBy(job, h.second)).toMatchObject({ mayRead: true, next: 'second', first: { hidden: true, values: [] } })
    await secondReading(h, job)
    expect((await h.second.get(`/api/jobs/${job.id}/truing`).expect(200)).body.moves[0].came).toEqual(own.moves[0].came)
  })

  test('gives itself away neither in the gate, nor in what was let pass, nor in the history, nor in the sheet before it is made', async () => {
    const job = await bookJob(it, { kind: 'true-only' })
    await measureAsReceived(h, job)
    await h.counter.post(`/api/jobs/${job.id}/quotes`, { totalMinor: 9000, text: 'True only' }).expect(201)
    await h.counter.post(`/api/jobs/${job.id}/yes`, { quoteVersion: 1, by: 'A. Hollis', how: 'by phone' }).expect(201)
    await step(h, h.counter, job, 'agreed')
    const first = await takeRunout(h, h.bench, job, 'built', { swingMm: 0.0254 })
    await takeWidth(h, h.bench, job, 'built')
    await takeClearance(h, h.bench, job, 'built')
    const figures = [first.runout?.left?.tirMm, first.runout?.right?.tirMm].map((tir) => String(Number((tir ?? 0).toFixed(5))))
    const codes = ['runout-left-over-house-inside-maker', 'runout-right-over-house-inside-maker']
    const trued = await step(
      h,
      h.owner,
      job,
      'trued',
      codes.map((code) => ({ code, reason: 'it will not come' })),
    )
    expect(trued.passes[0]?.what).toBe('The left end is over our limit, inside the maker’s.')
    it.clock.pass(1)
    // A pass before the newest reading is gone is asked for again, and says no figure to the second reader.
    await take(h, h.bench, job, {
      kind: 'runout',
      phase: 'built',
      setup: SET_UP,
      instrumentId: h.dial.id,
      values: turnOf({ swingMm: 0.0254 }),
    })
    const places = ['', '/gate', '/events', '/measurements', '/truing', '/check', '/certificate']
    for (const place of places) {
      const text = JSON.stringify((await h.second.get(`/api/jobs/${job.id}${place}`).expect(200)).body)
      for (const figure of figures) expect(text, `${place} says ${figure}`).not.toContain(figure)
    }
    const own = JSON.stringify((await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body)
    expect(own).toContain(`swings ${figures[0]}`)
    const refused = await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(409)
    for (const figure of figures) expect(JSON.stringify(refused.body)).not.toContain(figure)
  })

  test('of a report is what it came in with, and hidden as well', async () => {
    const job = await bookJob(it, { kind: 'check-and-report' })
    await measureAsReceived(h, job, { swingMm: 0.2 })
    const { measurements } = (await h.second.get(`/api/jobs/${job.id}/measurements`).expect(200)).body as { measurements: Measurement[] }
    expect(measurements.find((set) => set.kind === 'runout')).toMatchObject({ hidden: true, values: [] })
    expect(measurements.find((set) => set.kind === 'width')?.values).toHaveLength(4)
    await takeRunout(h, h.second, job, 'second', { swingMm: 0.2 })
    expect(await checkSeenBy(job, h.second)).toMatchObject({ agree: true, next: null })
    expect(await missing(job)).toEqual(['certificate'])
  })
})
