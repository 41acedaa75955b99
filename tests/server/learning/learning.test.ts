import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import type { PersonLearning } from '#contract/learning.ts'
import { startApp } from '#tests/support/app.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const owner = await it.as('owner')
const jonas = await it.as('bench', { name: 'Jonas' })
const marek = await it.as('bench', { name: 'Marek', cranksBefore: 700 })

const RATE = 0.82
const hoursOf = (n: number) => 6 * n ** Math.log2(RATE)
const at = (day: number, hour = 8) => new Date(Date.UTC(2026, 8, 1 + day, hour))

/** A rebuild that a person called true and that was signed, with its bench clock. */
async function rebuilt(
  engineId: string,
  day: number,
  person: string,
  hours: number,
  more: { others?: number; signed?: boolean } = {},
): Promise<string> {
  const { id } = await bookJob(it, { engineId })
  const { prisma } = it.db
  const stop = new Date(at(day).getTime() + hours * 3_600_000)
  const clock = (personId: string, work: string, from: Date, to: Date) =>
    prisma.clockEntry.create({ data: { personId, jobId: id, work, startedAt: from, stoppedAt: to, stoppedHow: 'hand' } })
  const half = new Date(at(day).getTime() + (hours / 2) * 3_600_000)
  await clock(person, 'pressing', at(day), half)
  await clock(person, 'truing', half, stop)
  if (more.others !== undefined) await clock(marek.person.id, 'truing', at(day), new Date(at(day).getTime() + more.others * 3_600_000))
  // Work after it was called true is not part of its hours.
  await clock(person, 'checking', new Date(stop.getTime() + 60_000), new Date(stop.getTime() + 3_600_000))
  await prisma.jobStep.create({ data: { jobId: id, step: 'trued', personId: person, at: stop } })
  if (more.signed !== false)
    await prisma.jobStep.create({ data: { jobId: id, step: 'signed', personId: marek.person.id, at: at(day, 23) } })
  return id
}

let line: PersonLearning
beforeAll(async () => {
  const engine = await addEngine(it)
  for (let n = 1; n <= 8; n++) await rebuilt(engine.id, n, jonas.person.id, hoursOf(n))
  await rebuilt(engine.id, 9, jonas.person.id, 3, { others: 2 })
  await rebuilt(engine.id, 10, jonas.person.id, 3, { signed: false })
  line = (await jonas.get(`/api/people/${jonas.person.id}/learning`).expect(200)).body
})

describe('learning line of a person', () => {
  test('gives back the rate and the first hours that went in', () => {
    // Noiseless points on hours = 6 · n^log2(0.82): least squares has to answer them, up to the clock's milliseconds.
    expect(line.line?.power.rate).toBeCloseTo(RATE, 6)
    expect(line.line?.power.firstHours).toBeCloseTo(6, 5)
    expect(line.points.filter((point) => point.hollow === undefined).map((point) => point.n)).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
    for (const point of line.points.slice(0, 8)) expect(point.hours).toBeCloseTo(hoursOf(point.n ?? 0), 6)
  })

  test('draws hollow where somebody else clocked over a fifth, keeps its number, and leaves out what is not signed', () => {
    expect(line.points).toHaveLength(9)
    expect(line.points[8]).toMatchObject({ n: 9, hollow: 'others-over-a-fifth' })
    expect(line.points[8]?.hours).toBeCloseTo(5, 9)
  })

  test('tells how much of the time goes into truing, up to the moment it was called true', () => {
    expect(line.ready.truingShareFirstTen).toBeGreaterThan(0.5)
    expect(line.ready.truingShareFirstTen).toBeLessThan(0.6)
  })

  test('counts on from the number declared at joining, and prints no rate over too short a span', async () => {
    const engine = await addEngine(it)
    for (let n = 1; n <= 3; n++) await rebuilt(engine.id, 20 + n, marek.person.id, 1.2)
    const own = (await marek.get(`/api/people/${marek.person.id}/learning`).expect(200)).body as PersonLearning
    expect(own.points.map((point) => point.n)).toEqual([701, 702, 703])
    expect(own).toMatchObject({ mayFitRate: false })
    expect(own.line).toBeUndefined()
    expect(own.noRateBecause).toBeTruthy()
    expect(own.level?.hours).toBeCloseTo(1.2, 9)
  })

  test('is seen by its own person and the owner, and by nobody else', async () => {
    await owner.get(`/api/people/${jonas.person.id}/learning`).expect(200)
    await marek.get(`/api/people/${jonas.person.id}/learning`).expect(403)
    await owner.get(`/api/people/${randomUUID()}/learning`).expect(404)
  })
})
