import { expect, test } from 'vitest'
import type { Measurement } from '#contract/measurements.ts'
import type { Truing } from '#contract/truing.ts'
import { startApp } from '#tests/support/app.ts'
import { agree, handsOf, measureAsReceived, SET_UP, take, takeRunout } from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

const turned = (id: string, body: object = {}, by = h.bench) => by.post(`/api/measurements/${id}/turn-round`, body)

test('readings counted by marks that run the other way are struck out and written down turned round, as one act', async () => {
  const job = await bookJob(it, { kind: 'true-only' })
  await measureAsReceived(h, job)
  // Marks the other way round turn a swing to mark 3 into one to mark 9 (mirror about the pin, by hand).
  const wrong = await takeRunout(h, h.bench, job, 'received', { swingMm: -0.12, openRad: 0.0004 })
  expect(wrong.runout?.sum?.moves[0]).toMatchObject({ action: 'strike', half: 'right', atDeg: 270 })
  const right = await turned(wrong.id).expect(201)
  expect(right.body).toMatchObject({
    phase: 'received',
    occurredAt: wrong.occurredAt,
    by: 'Jonas',
    instrument: wrong.instrument,
    setup: { ...SET_UP, marksRun: 'other-way' },
  })
  const at = (set: Measurement, deg: number) => set.values.find((value) => value.place === 'left' && value.atDeg === deg)?.mm
  expect([0, 90, 180, 270].map((deg) => at(right.body, deg))).toEqual([0, 270, 180, 90].map((deg) => at(wrong, deg)))
  const { sum } = (right.body as Measurement).runout!
  expect(sum?.moves[0]).toMatchObject({ action: 'strike', half: 'right', atDeg: 90 })
  expect(sum?.faults.swingMm).toBeCloseTo(-(wrong.runout?.sum?.faults.swingMm ?? 0), 9)
  const { measurements } = (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body
  const before = measurements.find((set: Measurement) => set.id === wrong.id)
  expect(before.struck).toMatchObject({ by: 'Jonas', because: expect.stringContaining('the other way round') })
  const truing = (await h.bench.get(`/api/jobs/${job.id}/truing`).expect(200)).body as Truing
  expect(truing.sets.at(-1)).toMatchObject({ id: right.body.id, marksRun: 'other-way' })
  // Turned again it stands as it was keyed.
  const back = await turned(right.body.id).expect(201)
  expect(back.body.setup.marksRun).toBe('clockwise')
  expect(back.body.values).toEqual(wrong.values)
})

test('the same key writes it down once; a second act finds it struck out', async () => {
  const job = await bookJob(it)
  const set = await takeRunout(h, h.bench, job, 'received', { swingMm: 0.05 })
  const key = '01930000-0000-7000-8000-0000000000aa'
  const first = await h.bench.post(`/api/measurements/${set.id}/turn-round`, {}, key)
  const again = await h.bench.post(`/api/measurements/${set.id}/turn-round`, {}, key)
  expect([first.status, again.status]).toEqual([201, 201])
  expect(again.body.id).toBe(first.body.id)
  await turned(set.id).expect(409)
})

test('is for runout, for whoever read it, and not for a set that is not there', async () => {
  const job = await bookJob(it)
  const set = await takeRunout(h, h.bench, job, 'received', { swingMm: 0.05 })
  const theirs = await turned(set.id, {}, h.second).expect(409)
  expect(theirs.body.detail).toBe('Jonas read this set, and turns it round or reads it again.')
  const width = await take(h, h.bench, job, {
    kind: 'width',
    phase: 'received',
    values: ['0', '90', '180', '270'].map((place) => ({ place, mm: 64 })),
  })
  await turned(width.id).expect(409)
  await turned(set.id, {}, h.counter).expect(403)
  await turned(set.id, { because: 'x' }).expect(400)
  await turned('01930000-0000-7000-8000-00000000dead').expect(404)
  const { measurements } = (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body
  expect(measurements.filter((one: Measurement) => one.struck !== undefined)).toEqual([])
})

test('a blow that went the wrong way asks which way the marks run, and is not told once the reading after it is turned round', async () => {
  const job = await bookJob(it, { kind: 'true-only' })
  await measureAsReceived(h, job)
  await agree(h, job)
  const truing = async () => (await h.bench.get(`/api/jobs/${job.id}/truing`).expect(200)).body as Truing
  // A swing of 0.12 to mark 3 reads as one to mark 9, and the blow that was advised for that makes it 0.2.
  const before = await takeRunout(h, h.bench, job, 'built', { swingMm: -0.12 })
  it.clock.pass(1)
  const blow = { beforeId: before.id, action: 'strike', half: 'right', atDeg: 270, force: 'light', asAdvised: true }
  await h.bench.post(`/api/jobs/${job.id}/moves`, blow).expect(201)
  const after = await takeRunout(h, h.bench, job, 'built', { swingMm: -0.2 })
  expect((await truing()).moves[0]?.told).toMatchObject({ turn: 'other-way', askMarks: true })
  const right = await turned(after.id).expect(201)
  const now = await truing()
  expect(now.last?.id).toBe(right.body.id)
  expect(now.advice?.moves[0]).toMatchObject({ action: 'strike', half: 'right', atDeg: 90 })
  expect(now.moves[0]).not.toHaveProperty('told')
  // The full swings are the same whichever way the marks run.
  expect(now.moves[0]?.came?.leftTirMm).toBeCloseTo(after.runout?.left?.tirMm ?? 0, 9)
})
