import { describe, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import type { RunoutSetup } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import { startApp } from '#tests/support/app.ts'
import { handsOf, SET_UP, turnOf } from '#tests/support/bench-factories.ts'
import { addEngine, bookJob, NO_LIMITS } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

async function read(job: Job, body: object) {
  it.clock.pass(1)
  return h.bench.post(`/api/jobs/${job.id}/measurements`, {
    kind: 'runout',
    phase: 'received',
    setup: SET_UP,
    instrumentId: h.dial.id,
    ...body,
  })
}

async function figures(job: Job, body: object): Promise<RunoutFigures> {
  const answer = await read(job, body)
  expect(answer.status, JSON.stringify(answer.body)).toBe(201)
  return answer.body.runout
}

/** Two marks, each read to half a division of 0.001, put a full swing off by no more than a whole one. */
const ROUNDING_MM = 0.001 + 1e-9

function offBy(worked: number | undefined, exact: number): number {
  return Math.abs((worked ?? Number.NaN) - exact)
}

describe('what a runout set comes to', () => {
  test('both ends, the faults behind them, give or take, limits and verdicts, with the methods', async () => {
    const job = await bookJob(it)
    const worked = await figures(job, { values: turnOf({ swingMm: 0.12 }) })
    // A pure swing e reads 2·p·e/S left and 2·q·e/S right: S 88, p 45, q 50 (rigid halves).
    expect(offBy(worked.left?.tirMm, (2 * 45 * 0.12) / 88)).toBeLessThan(ROUNDING_MM)
    expect(offBy(worked.right?.tirMm, (2 * 50 * 0.12) / 88)).toBeLessThan(ROUNDING_MM)
    expect(worked.sum).toMatchObject({ verdict: 'swing', moves: [{ action: 'strike', half: 'right', atDeg: 90 }] })
    expect(worked.closes).toEqual({ leftMm: 0, rightMm: 0, agree: true })
    // The budget of a 0.001 dial on bare seats; the left dial stands on a taper.
    expect(worked.giveOrTake.leftMm).toBeGreaterThan(worked.giveOrTake.rightMm)
    expect(worked.giveOrTake.rightMm).toBeCloseTo(0.005, 4)
    expect(worked.worth?.left).toMatchObject({ k: 2, degreesOfFreedom: null, sets: 1 })
    expect(worked.worth?.right.parts.reduce((sum, part) => sum + part.share, 0)).toBeCloseTo(1, 12)
    expect(worked.worth?.rule).toBe('full-guard')
    expect(worked.limits).toEqual({
      leftMm: 0.02,
      rightMm: 0.02,
      makerLeftMm: 0.03,
      makerRightMm: 0.03,
      atStatedPlace: true,
      given: { left: { limitMm: 0.02, makerMm: 0.03, dialMm: 45 }, right: { limitMm: 0.02, makerMm: 0.03, dialMm: 50 } },
    })
    expect(worked.verdicts).toEqual({ left: 'over', right: 'over' })
    expect(worked.method).toEqual({ name: expect.any(String), version: '2' })
    const kept = await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)
    expect(kept.body.measurements[0].runout).toEqual(worked)
  })

  test.each([
    [0.005, true],
    [0.0051, false],
    [-0.005, true],
  ])('12 read again off by %s repeats: %s', async (byMm, agree) => {
    const values = turnOf({ swingMm: 0.05 }).map((value) => (value.place === 'left-again' ? { ...value, mm: byMm } : value))
    const worked = await figures(await bookJob(it), { values })
    expect(worked.closes).toMatchObject({ leftMm: byMm, agree })
  })

  test('12 not read again repeats nothing', async () => {
    const values = turnOf({ swingMm: 0.05 }).filter((value) => value.place !== 'right-again')
    expect((await figures(await bookJob(it), { values })).closes).toEqual({ leftMm: 0, agree: false })
  })

  test('a limit is carried to a dial further out on the same supports, in proportion', async () => {
    const setup = { ...SET_UP, dialLeftMm: 90 }
    const worked = await figures(await bookJob(it), { setup, values: turnOf({ swingMm: 0.01 }, setup) })
    expect(worked.limits).toMatchObject({ leftMm: 0.04, rightMm: 0.02, makerLeftMm: 0.06, atStatedPlace: true })
  })

  test.each<[string, Partial<RunoutSetup>]>([
    ['on other supports', { supportLeftMm: 50 }],
    ['in the cases', { held: 'cases' }],
    ['with the dial on the other side of the support', { dialRightMm: -50 }],
  ])('is not to be compared %s', async (_how, change) => {
    const setup = { ...SET_UP, ...change }
    const worked = await figures(await bookJob(it), { setup, values: turnOf({ swingMm: 0.01 }, setup) })
    expect(worked.limits.atStatedPlace).toBe(false)
    expect(worked.verdicts.right).toBeUndefined()
    expect(worked.sum?.verdict).toBe('swing')
  })

  test('on bearings it is worth less: the ring has most of the budget, as the table of the trade says (0.017)', async () => {
    const worked = await figures(await bookJob(it), { setup: { ...SET_UP, held: 'v-blocks-bearings' }, values: turnOf({ swingMm: 0.01 }) })
    expect(Math.abs(worked.giveOrTake.rightMm - 0.017)).toBeLessThan(0.0015)
    expect(worked.worth?.right.parts.find(({ name }) => name === 'bearings')?.share).toBeGreaterThan(0.8)
    expect(worked.verdicts).toEqual({ left: 'in-the-doubt-band', right: 'in-the-doubt-band' })
  })

  test('takes what the register says of the dial', async () => {
    const worn = (await h.owner.post('/api/instruments', { name: 'dial 8', kind: 'dial', stepMm: 0.001, errorMm: 0.012 }).expect(201)).body
    expect(worn).toMatchObject({ errorMm: 0.012 })
    const worked = await figures(await bookJob(it), { instrumentId: worn.id, values: turnOf({ swingMm: 0.01 }) })
    expect(worked.worth?.right.parts.find(({ name }) => name === 'dial')?.standardMm).toBeCloseTo(0.012 / Math.sqrt(3), 12)
    expect(worked.giveOrTake.rightMm).toBeGreaterThan(0.012)
    const refused = await h.owner.post('/api/instruments', { name: 'feelers 8', kind: 'feeler', stepMm: 0.05, errorMm: 0.01 })
    expect(refused.body.errors).toEqual([expect.objectContaining({ pointer: '/errorMm', code: 'no-dial' })])
    const cleared = await h.owner.patch(`/api/instruments/${worn.id}`, { errorMm: null }, worn.version).expect(200)
    expect(cleared.body).not.toHaveProperty('errorMm')
  })

  test('three sets in one sitting say how it repeats, with Student’s t; with a dial moved it counts afresh', async () => {
    const job = await bookJob(it)
    const worked: RunoutFigures[] = []
    for (const swingMm of [0.04, 0.06, 0.08]) worked.push(await figures(job, { values: turnOf({ swingMm }) }))
    expect(worked.map((one) => one.worth?.right.sets)).toEqual([1, 2, 3])
    expect(worked[1]!.giveOrTake.rightMm).toBeCloseTo(worked[0]!.giveOrTake.rightMm, 12)
    const [first, second, third] = worked.map((one) => one.right!.tirMm)
    const mean = (first! + second! + third!) / 3
    const deviation = Math.sqrt([first!, second!, third!].reduce((sum, mm) => sum + (mm - mean) ** 2, 0) / 2)
    expect(worked[2]!.worth?.right.parts.find(({ name }) => name === 'repeat')?.standardMm).toBeCloseTo(deviation, 9)
    // Nearly all of it is the spread: 2 degrees of freedom, k of GUM table G.2.
    expect(worked[2]!.worth?.right.k).toBeCloseTo(4.53, 2)
    const elsewhere = await figures(job, { setup: { ...SET_UP, dialRightMm: 48 }, values: turnOf({ swingMm: 0.06 }) })
    expect(elsewhere.worth?.right.sets).toBe(1)
  })

  test('with one main held in a lathe only the swing is said, of the other end alone', async () => {
    const setup = { ...SET_UP, held: 'lathe-left' as const }
    const values = turnOf({ swingMm: 0.05 }).filter((value) => value.place.startsWith('right'))
    const worked = await figures(await bookJob(it), { setup, values })
    expect(worked.sum?.faults).toEqual({ swingMm: expect.any(Number) })
    expect(worked.left).toBeUndefined()
    expect(worked.limits.atStatedPlace).toBe(false)
    const wrongEnd = await read(await bookJob(it), { setup, values: turnOf({ swingMm: 0.05 }) })
    expect(wrongEnd.body.errors).toEqual([expect.objectContaining({ code: 'held-end' })])
  })

  test('one end alone swings, and no sum is made of it', async () => {
    const values = turnOf({ swingMm: 0.05 }).filter((value) => value.place.startsWith('left'))
    const worked = await figures(await bookJob(it), { values })
    expect(offBy(worked.left?.tirMm, (2 * 45 * 0.05) / 88)).toBeLessThan(ROUNDING_MM)
    expect(worked).not.toHaveProperty('sum')
    expect(worked).not.toHaveProperty('refused')
  })

  test('a sheet without a stroke or places says so, and the swings stand', async () => {
    const engine = await addEngine(it, { figuresMm: { strokeMm: null, supportLeftMm: null, ...NO_LIMITS } })
    const worked = await figures(await bookJob(it, { engineId: engine.id }), { values: turnOf({ swingMm: 0.05 }) })
    expect(worked.refused).toContain('no stroke')
    expect(offBy(worked.left?.tirMm, (2 * 45 * 0.05) / 88)).toBeLessThan(ROUNDING_MM)
    expect(worked.limits).toEqual({ atStatedPlace: false })
  })

  test('a full swing and its high spot may stand for the turn of an end', async () => {
    const values = [
      { place: 'left-swing', atDeg: 90, mm: 0.09 },
      { place: 'right-swing', atDeg: 270, mm: 0.1 },
    ]
    const worked = await figures(await bookJob(it), { values })
    expect(worked.left).toEqual({ tirMm: 0.09, highAtDeg: 90 })
    expect(worked.closes.agree).toBe(true)
    expect(worked.sum).toMatchObject({ verdict: 'swing' })
  })
})

test('a mark in a keyway is skipped: kept with the set, fitted without, and read too is refused', async () => {
  const job = await bookJob(it)
  const setup = { ...SET_UP, skippedLeftDeg: [90] }
  const values = turnOf({ swingMm: 0.05 }).filter((value) => value.place !== 'left' || value.atDeg !== 90)
  const answer = await read(job, { setup, values })
  expect(answer.status).toBe(201)
  expect(answer.body.setup.skippedLeftDeg).toEqual([90])
  // A pure swing e reads 2·p·e/S at the left.
  expect(offBy(answer.body.runout.left.tirMm, (2 * 45 * 0.05) / 88)).toBeLessThan(2 * ROUNDING_MM)
  expect(answer.body.runout.quality).toContainEqual(expect.objectContaining({ code: 'keyway-skipped', side: 'left' }))
  const both = await read(job, { setup, values: turnOf({ swingMm: 0.05 }) })
  expect(both.body.errors).toEqual([expect.objectContaining({ pointer: '/setup/skippedLeftDeg', code: 'read-too' })])
  expect((await read(job, { setup: { ...SET_UP, skippedLeftDeg: [0] }, values })).body.errors[0].pointer).toBe('/setup/skippedLeftDeg/0')
})

describe('a turn of the dial is refused', () => {
  const left = (atDeg: number, mm: number) => ({ place: 'left', atDeg, mm })
  test.each([
    ['without its set-up', { setup: undefined, values: turnOf({}) }, '/setup'],
    ['with a dial on its support', { setup: { ...SET_UP, dialLeftMm: 0 }, values: turnOf({}) }, '/setup/dialLeftMm'],
    ['without a mark', { values: [{ place: 'left', mm: 0 }] }, '/values/0/atDeg'],
    ['read again that was not read first', { values: [left(90, 0), { place: 'left-again', mm: 0 }] }, '/values/1/place'],
    ['read again at another mark', { values: [left(0, 0), { place: 'left-again', atDeg: 90, mm: 0 }] }, '/values/1/atDeg'],
    ['both ways at once', { values: [left(0, 0), { place: 'left-swing', atDeg: 0, mm: 0.1 }] }, '/values/1/place'],
    ['of the parts of a kit', { phase: 'kit', values: turnOf({}) }, '/phase'],
  ])('%s', async (_what, body, pointer) => {
    const answer = await read(await bookJob(it), body)
    expect(answer.status).toBe(400)
    expect(answer.body.errors.map((error: { pointer: string }) => error.pointer)).toContain(pointer)
  })

  test('too few marks are kept, and the sum says why it could not be done', async () => {
    const values = [left(0, 0), left(90, 0.05), ...turnOf({ swingMm: 0.05 }).filter((value) => value.place.startsWith('right'))]
    const worked = await figures(await bookJob(it), { values })
    expect(worked.refused).toMatch(/^Left end: Read at three different marks/)
    expect(worked.left).toBeUndefined()
    expect(offBy(worked.right?.tirMm, (2 * 50 * 0.05) / 88)).toBeLessThan(ROUNDING_MM)
  })
})
