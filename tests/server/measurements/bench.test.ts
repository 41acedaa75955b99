import { describe, expect, test } from 'vitest'
import type { Bench } from '#contract/bench.ts'
import { fit as fitSum } from '#core/fit.ts'
import { startApp } from '#tests/support/app.ts'
import { agree, handsOf, measureAsReceived, partCrank, press, take, takePinAndBores, takeWidth } from '#tests/support/bench-factories.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

async function bench(job: { id: string }): Promise<Bench> {
  return (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body as Bench
}

async function partedRebuild(figuresMm: Parameters<typeof addEngine>[1] = {}) {
  const engine = await addEngine(it, figuresMm)
  const job = await bookJob(it, { engineId: engine.id })
  await measureAsReceived(h, job)
  await agree(h, job)
  return partCrank(h, job)
}

describe('the fit', () => {
  test('is least pin less greatest bore, of the newest readings that are not struck out', async () => {
    const job = await partedRebuild()
    expect(await bench(job)).not.toHaveProperty('fit')
    await take(h, h.bench, job, {
      kind: 'pin',
      phase: 'kit',
      values: [
        { place: 'left-0', mm: 35.013 },
        { place: 'left-90', mm: 35.011 },
      ],
    })
    const bores = (mm: number) => [
      { place: 'left-outer-0', mm },
      { place: 'left-inner-90', mm: Number((mm + 0.002).toFixed(3)) },
    ]
    await take(h, h.bench, job, { kind: 'bore', phase: 'building', values: bores(34.9) })
    const first = (await bench(job)).fit
    expect(first).toMatchObject({ ofOldPin: false, shopFloorMm: 0.1, scrapFloorMm: 0.077, left: { verdict: 'go' } })
    expect(first?.left?.interferenceMm).toBeCloseTo(0.109, 9)
    expect(first).not.toHaveProperty('right')
    const later = await take(h, h.bench, job, { kind: 'bore', phase: 'building', values: bores(34.92) })
    expect((await bench(job)).fit?.left).toMatchObject({ verdict: 'below-shop-floor' })
    await h.bench.post(`/api/measurements/${later.id}/strike`, { because: 'the gauge was not set' }).expect(200)
    expect((await bench(job)).fit).toEqual(first)
  })

  test('of the old pin says so, until the pin of the kit is measured, which then counts whenever the old one is read', async () => {
    const job = await partedRebuild()
    const pin = (mm: number) => ['left-0', 'left-90', 'right-0', 'right-90'].map((place) => ({ place, mm }))
    await take(h, h.bench, job, { kind: 'pin', phase: 'building', values: pin(35) })
    await take(h, h.bench, job, {
      kind: 'bore',
      phase: 'building',
      values: ['left-outer-0', 'right-outer-0'].map((place) => ({ place, mm: 34.9 })),
    })
    expect((await bench(job)).fit).toMatchObject({ ofOldPin: true, left: { verdict: 'go' } })
    await take(h, h.bench, job, { kind: 'pin', phase: 'kit', values: pin(35.02) })
    await take(h, h.bench, job, { kind: 'pin', phase: 'building', values: pin(35) })
    const now = (await bench(job)).fit
    expect(now?.ofOldPin).toBe(false)
    expect(now?.right?.interferenceMm).toBeCloseTo(0.12, 9)
  })

  test('foretells the gauge: of the kit pin going together, of the old one going apart, at 9.80665 kN a tonne (3rd CGPM, 1901)', async () => {
    const job = await partedRebuild()
    await takePinAndBores(h, job, { left: 0.109, right: 0.1 })
    await press(h, job, { direction: 'together', side: 'left', peakTonnes: 9.1 })
    const { pressings } = await bench(job)
    const force = fitSum({ pinMm: [35.012], boreMm: [34.903], engagementMm: 21.8 }).pressForceKN
    expect(pressings.at(-1)?.foretold?.lowTonnes).toBeCloseTo(force.low / 9.80665, 9)
    expect(pressings.at(-1)?.foretold?.highTonnes).toBeCloseTo(force.high / 9.80665, 9)
    expect(pressings[0]).not.toHaveProperty('foretold')
    await take(h, h.bench, job, { kind: 'pin', phase: 'building', values: [{ place: 'left-0', mm: 35 }] })
    const oldForce = fitSum({ pinMm: [35], boreMm: [34.903], engagementMm: 21.8 }).pressForceKN
    const parted = (await bench(job)).pressings.find((one) => one.direction === 'apart' && one.side === 'left')
    expect(parted?.foretold?.lowTonnes).toBeCloseTo(oldForce.low / 9.80665, 9)
  })

  test('without a bore length on the sheet takes the measured web, and without either says no force', async () => {
    const job = await partedRebuild({ figuresMm: { engagementMm: null } })
    await takePinAndBores(h, job)
    expect((await bench(job)).fit).toEqual({ ofOldPin: false, shopFloorMm: 0.1, scrapFloorMm: expect.any(Number) })
    await take(h, h.bench, job, { kind: 'stack', phase: 'kit', values: [{ place: 'web-left', mm: 21.5 }] })
    const now = (await bench(job)).fit
    expect(now?.left?.pressForceKN.low).toBeCloseTo(fitSum({ pinMm: [35.012], boreMm: [34.903], engagementMm: 21.5 }).pressForceKN.low, 9)
    expect(now).not.toHaveProperty('right')
  })
})

describe('the width to press to', () => {
  test('meets both windows of the sheet over the measured stack, and says what is to go', async () => {
    const job = await partedRebuild()
    await takeWidth(h, h.bench, job, 'building', [64.06])
    expect(await bench(job)).not.toHaveProperty('width')
    await take(h, h.bench, job, {
      kind: 'stack',
      phase: 'kit',
      values: [
        { place: 'web-left', mm: 21.8 },
        { place: 'web-right', mm: 21.8 },
        { place: 'rod', mm: 18.12 },
        { place: 'washer-1', mm: 1 },
        { place: 'washer-2', mm: 1 },
      ],
    })
    const { width } = await bench(job)
    expect(width?.stackMm).toBeCloseTo(63.72, 9)
    // Width window 63.95 to 64.05, side clearance 0.25 to 0.50: together 63.97 to 64.05.
    expect(width?.window?.minMm).toBeCloseTo(63.97, 9)
    expect(width?.window?.maxMm).toBeCloseTo(64.05, 9)
    expect(width?.toGoMm).toBeCloseTo(0.05, 9)
  })

  test('reads a warm crank at 20 °C', async () => {
    const job = await partedRebuild()
    const stack = { 'web-left': 21.8, 'web-right': 21.8, rod: 18.12, 'washer-1': 1, 'washer-2': 1 }
    await take(h, h.bench, job, { kind: 'stack', phase: 'kit', values: Object.entries(stack).map(([place, mm]) => ({ place, mm })) })
    await take(h, h.bench, job, { kind: 'width', phase: 'building', temperatureC: 60, values: [{ place: '0', mm: 64.06 }] })
    // 40 K over 64 mm of steel at 11.5e-6/K (GUM H.1) is 0.0295 mm.
    expect((await bench(job)).width?.toGoMm).toBeCloseTo(0.05 - 0.0295, 3)
  })
})
