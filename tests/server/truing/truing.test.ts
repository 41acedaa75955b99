import { describe, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import type { Measurement } from '#contract/measurements.ts'
import type { Truing } from '#contract/truing.ts'
import { startApp } from '#tests/support/app.ts'
import {
  agree,
  handsOf,
  measureAsReceived,
  partCrank,
  press,
  pressTogether,
  SET_UP,
  step,
  take,
  takeRunout,
  turnOf,
} from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

async function togetherRebuild(): Promise<Job> {
  const job = await bookJob(it)
  await measureAsReceived(h, job)
  await agree(h, job)
  await partCrank(h, job)
  return pressTogether(h, job)
}

async function truing(job: Job): Promise<Truing> {
  return (await h.bench.get(`/api/jobs/${job.id}/truing`).expect(200)).body as Truing
}

function move(job: Job, before: { id: string }, body: object = {}) {
  it.clock.pass(1)
  const blow = { action: 'strike', half: 'right', atDeg: 90, force: 'light', asAdvised: true }
  return h.bench.post(`/api/jobs/${job.id}/moves`, { beforeId: before.id, ...blow, ...body })
}

describe('the truing bench', () => {
  test('of a rebuild begins when it is together, of a true-only when it came in', async () => {
    const job = await togetherRebuild()
    expect(await truing(job)).toEqual({ sets: [], moves: [], stale: false, repeats: [] })
    const set = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12 })
    expect((await truing(job)).sets).toEqual([
      {
        id: set.id,
        phase: 'building',
        at: set.occurredAt,
        by: 'Jonas',
        leftTirMm: set.runout?.left?.tirMm,
        rightTirMm: set.runout?.right?.tirMm,
      },
    ])
    const trueOnly = await bookJob(it, { kind: 'true-only' })
    await measureAsReceived(h, trueOnly)
    expect((await truing(trueOnly)).sets.map((each) => each.phase)).toEqual(['received'])
  })

  test('advises after the last set, once both ends and 12 again are in and repeat', async () => {
    const job = await togetherRebuild()
    const of = async (values: Measurement['values']) => {
      await take(h, h.bench, job, { kind: 'runout', phase: 'building', setup: SET_UP, values })
      return truing(job)
    }
    const turn = turnOf({ swingMm: 0.12 })
    expect(await of(turn.filter((value) => value.place.startsWith('left')))).not.toHaveProperty('advice')
    expect(await of(turn.filter((value) => !value.place.endsWith('again')))).not.toHaveProperty('advice')
    expect(await of(turn.map((value) => (value.place === 'right-again' ? { ...value, mm: value.mm + 0.006 } : value)))).not.toHaveProperty(
      'advice',
    )
    const whole = await of(turn)
    expect(whole.advice?.moves[0]).toMatchObject({ action: 'strike', half: 'right', atDeg: 90 })
    expect(whole).toMatchObject({ stale: false, last: { phase: 'building' }, figures: { closes: { agree: true } } })
  })

  test('is stale after a blow or a pressing, and says then only how it was last time', async () => {
    const job = await togetherRebuild()
    const set = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12 })
    await move(job, set).expect(201)
    const stale = await truing(job)
    expect(stale).toMatchObject({ stale: true, figures: { sum: { verdict: 'swing' } } })
    expect(stale).not.toHaveProperty('advice')
    const again = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.05 })
    expect((await truing(job)).stale).toBe(false)
    await press(h, job, { direction: 'together', side: 'left', peakTonnes: 7 })
    expect((await truing(job)).stale).toBe(true)
    await takeRunout(h, h.bench, job, 'building', { swingMm: 0.05 })
    // To leave it alone moves nothing.
    await move(job, again, { action: 'leave', half: undefined, atDeg: undefined, force: undefined, asAdvised: false }).expect(201)
    expect((await truing(job)).stale).toBe(false)
  })

  test('says of a set when the book got it, where that was late', async () => {
    const job = await togetherRebuild()
    const read = it.clock.now.toISOString()
    await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12 })
    it.clock.pass(98)
    // Read before the other, and sent once the network was back.
    const late = await take(h, h.bench, job, {
      kind: 'runout',
      phase: 'building',
      setup: SET_UP,
      values: turnOf({ swingMm: 0.12 }),
      occurredAt: read,
    })
    const { sets } = await truing(job)
    expect(sets.map((set) => [set.id === late.id, set.lateAt])).toEqual([
      [true, late.recordedAt],
      [false, undefined],
    ])
  })

  test('is the bench’s: a counter has no business with it', async () => {
    const job = await bookJob(it)
    await h.counter.get(`/api/jobs/${job.id}/truing`).expect(403)
    await h.counter.get(`/api/jobs/${job.id}/check`).expect(403)
    await h.counter.post(`/api/jobs/${job.id}/moves`, {}).expect(403)
    await it.nobody().get(`/api/jobs/${job.id}/truing`).expect(401)
    await h.bench.get('/api/jobs/01930000-0000-7000-8000-00000000dead/truing').expect(404)
    await h.bench.get('/api/jobs/01930000-0000-7000-8000-00000000dead/check').expect(404)
  })
})

describe('a move', () => {
  test('foretells the full swings of a perfect one, and what came is the next set', async () => {
    const job = await togetherRebuild()
    // Swing 0.12 and webs open by 0.0004 rad: a perfect blow takes the swing and leaves the opening.
    const before = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12, openRad: 0.0004 })
    const logged = await move(job, before)
    expect(logged.status).toBe(201)
    // A pure opening reads 2·p·b·α/S left and 2·q·a·α/S right: p 45, q 50, a = b = 44, S 88.
    expect(Math.abs(logged.body.foretold.leftTirMm - 45 * 0.0004)).toBeLessThan(0.0015)
    expect(Math.abs(logged.body.foretold.rightTirMm - 50 * 0.0004)).toBeLessThan(0.0015)
    expect(logged.body).not.toHaveProperty('came')
    expect((await truing(job)).moves[0]).not.toHaveProperty('came')
    const after = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.03, openRad: 0.0004 })
    expect((await truing(job)).moves).toEqual([
      {
        ...logged.body,
        told: { turn: 'short', says: 'It moved the right way, not the whole way.' },
        came: { leftTirMm: after.runout?.left?.tirMm, rightTirMm: after.runout?.right?.tirMm },
      },
    ])
    const squeezed = await move(job, after, { action: 'squeeze', half: undefined, atDeg: undefined, force: undefined })
    expect(squeezed.body.foretold.leftTirMm).toBeLessThan(after.runout!.left!.tirMm)
  })

  test('of two without a reading between, only the second has come to something', async () => {
    const job = await togetherRebuild()
    const before = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12 })
    await move(job, before).expect(201)
    await move(job, before).expect(201)
    await takeRunout(h, h.bench, job, 'building', { swingMm: 0.03 })
    const { moves } = await truing(job)
    expect(moves.map((each) => each.came !== undefined)).toEqual([false, true])
  })

  test('that works away from true foretells nothing, and is not as advised', async () => {
    const job = await togetherRebuild()
    const before = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12 })
    const wrong = await move(job, before, { atDeg: 270 })
    expect(wrong.body.errors).toEqual([expect.objectContaining({ pointer: '/asAdvised', code: 'not-advised' })])
    const logged = await move(job, before, { atDeg: 270, asAdvised: false })
    expect(logged.status).toBe(201)
    expect(logged.body).not.toHaveProperty('foretold')
    // The left web at 9 does what the right one does at 3.
    expect((await move(job, before, { half: 'left', atDeg: 270 })).status).toBe(201)
  })

  test('is refused with a field missing or too many, before it is agreed, of a report, and after a set of another job', async () => {
    const job = await togetherRebuild()
    const before = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12 })
    const pointer = async (body: object) => (await move(job, before, body)).body.errors?.[0]?.pointer
    expect(await pointer({ half: undefined })).toBe('/half')
    expect(await pointer({ atDeg: undefined })).toBe('/atDeg')
    expect(await pointer({ action: 'wedge', atDeg: undefined, force: undefined })).toBe('/half')
    expect(await pointer({ action: 'wedge', half: undefined, atDeg: undefined })).toBe('/force')
    expect(await pointer({ beforeId: '01930000-0000-7000-8000-00000000dead' })).toBe('/beforeId')
    await h.bench.post(`/api/jobs/${job.id}/moves`, { beforeId: before.id, action: 'wedge' }).expect(400)
    const early = await bookJob(it, { kind: 'true-only' })
    await measureAsReceived(h, early)
    await move(early, before).expect(409)
    const report = await bookJob(it, { kind: 'check-and-report' })
    await measureAsReceived(h, report)
    await move(report, before).expect(409)
    await h.bench.post(`/api/measurements/${before.id}/strike`, { because: 'the dial slipped' }).expect(200)
    expect(await pointer({})).toBe('/beforeId')
  })

  test('stands in the history in bench words, without a figure', async () => {
    const job = await togetherRebuild()
    const before = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12 })
    await move(job, before).expect(201)
    const events = await h.counter.get(`/api/jobs/${job.id}/events`).expect(200)
    expect(events.body.rows.slice(0, 2).map((row: { says: string }) => row.says)).toEqual([
      'Struck the right web at mark 3, light.',
      'Runout on the way: read.',
    ])
  })

  test('is never changed: the database refuses', async () => {
    const job = await togetherRebuild()
    const before = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12 })
    await move(job, before).expect(201)
    await expect(it.db.pool.query('UPDATE truing_move SET at_deg = 0 WHERE job_id = $1', [job.id])).rejects.toThrow()
  })
})

test('a crank over our limit and inside the maker’s is said so at the gate', async () => {
  const job = await bookJob(it, { kind: 'true-only' })
  await measureAsReceived(h, job)
  await agree(h, job)
  await takeRunout(h, h.bench, job, 'built', { swingMm: 0.025 })
  const gate = await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)
  expect(gate.body.missing[0]).toMatchObject({
    code: 'runout-left-over-house-inside-maker',
    detail: expect.stringMatching(/^The left end swings 0.026: over our limit, inside the maker’s. We allow 0.02, the maker allows 0.03.$/),
  })
  await expect(step(h, h.bench, job, 'trued')).rejects.toThrow('gate-not-met')
})
