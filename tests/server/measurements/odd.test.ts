import { describe, expect, test } from 'vitest'
import type { Bench } from '#contract/bench.ts'
import type { Measurement } from '#contract/measurements.ts'
import { startApp } from '#tests/support/app.ts'
import { agree, handsOf, measureAsReceived, partCrank, take, takeWidth } from '#tests/support/bench-factories.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

async function bench(job: { id: string }): Promise<Bench> {
  return (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body as Bench
}

const codes = (set: Pick<Measurement, 'odd'>) => set.odd?.map((one) => one.code)

describe('an odd width', () => {
  test('is taken, and the answer asks about it with the slip that explains it; so does the bench until it is struck out', async () => {
    const job = await bookJob(it)
    const set = await takeWidth(h, h.bench, job, 'received', [6.4, 64.01, 64, 63.99])
    expect(set.odd).toEqual([
      {
        code: 'not-by-the-sheet',
        place: '0',
        likelyMm: 64,
        says: 'Is it really 6.4? The sheet says 63.95 to 64.05. With the mark moved it is 64.00.',
      },
    ])
    expect((await bench(job)).measurements[0]?.odd).toEqual(set.odd)
    await h.bench.post(`/api/measurements/${set.id}/strike`, { because: 'the mark' }).expect(200)
    expect((await bench(job)).measurements[0]).not.toHaveProperty('odd')
    const again = await takeWidth(h, h.bench, job, 'received', [64, 64.01, 64, 63.99])
    expect(again).not.toHaveProperty('odd')
  })

  test('half a turn of the thimble is found in one of four; the same figure sent again is taken again', async () => {
    const job = await bookJob(it)
    for (const _ of [1, 2]) {
      const set = await takeWidth(h, h.bench, job, 'received', [64, 64.51, 64, 63.99])
      expect(set.odd?.[0]).toMatchObject({ code: 'not-by-the-sheet', place: '90', likelyMm: 64.01 })
    }
  })

  test('is judged by our own last five of this engine, of other jobs, as they came in', async () => {
    const engine = await addEngine(it)
    for (const mm of [64, 64.01, 63.99, 64.02]) {
      const job = await bookJob(it, { engineId: engine.id })
      await takeWidth(h, h.bench, job, 'received', [mm, mm, mm, mm])
    }
    const job = await bookJob(it, { engineId: engine.id })
    const wide = [64.2, 64.2, 64.2, 64.2]
    const tooFew = await takeWidth(h, h.bench, job, 'received', wide)
    expect(tooFew).not.toHaveProperty('odd')
    const fifth = await bookJob(it, { engineId: engine.id })
    await takeWidth(h, h.bench, fifth, 'received', [64, 64, 64, 64])
    const odd = await takeWidth(h, h.bench, job, 'received', wide)
    // Our five: median 64.00, MAD 0.01; 64.20 scores 0.6745 × 0.2 / 0.01 = 13.5 (Iglewicz and Hoaglin 1993: over 3.5 is odd).
    expect(odd.odd).toEqual([expect.objectContaining({ code: 'not-like-ours', count: 5, medianMm: 64 })])
    expect((await bench(job)).ours).toEqual({ received: [64, 64.02, 63.99, 64.01, 64], built: [] })
    const elsewhere = await bookJob(it)
    expect(await takeWidth(h, h.bench, elsewhere, 'received', wide)).not.toHaveProperty('odd')
  })

  test('read warm says so with the figure of its correction', async () => {
    const job = await bookJob(it)
    const set = await take(h, h.bench, job, { kind: 'width', phase: 'received', temperatureC: 60, values: [{ place: '0', mm: 64.03 }] })
    expect(codes(set)).toEqual(['warm'])
    // 40 K × 11.5e-6 × 64.03 mm (JCGM 100:2008, H.1).
    expect(set.odd?.[0]?.wideMm).toBeCloseTo(0.0294, 4)
  })
})

describe('under the ram', () => {
  test('a tap that leaves the row is asked about, and the peak of the gauge is kept with the width', async () => {
    const job = await bookJob(it)
    await measureAsReceived(h, job)
    await agree(h, job)
    await partCrank(h, job)
    const tap = (mm: number, more: object = {}) =>
      take(h, h.bench, job, { kind: 'width', phase: 'building', values: [{ place: '0', mm }], ...more })
    const first = await tap(64.12, { peakTonnes: 8.4 })
    expect(first).toMatchObject({ peakTonnes: 8.4 })
    expect(first).not.toHaveProperty('odd')
    expect(codes(await tap(64.58))).toEqual(['not-like-the-tap-before'])
    expect(codes(await tap(64.1))).toEqual(['not-like-the-tap-before'])
    expect(await tap(64.07)).not.toHaveProperty('odd')
    expect((await bench(job)).measurements.filter((set) => set.peakTonnes !== undefined).map((set) => set.peakTonnes)).toEqual([8.4])
  })

  test('the gauge goes with a width alone, and within its range', async () => {
    const job = await bookJob(it)
    const url = `/api/jobs/${job.id}/measurements`
    const width = { kind: 'width', phase: 'received', values: [{ place: '0', mm: 64 }] }
    await h.bench.post(url, { ...width, peakTonnes: 0 }).expect(400)
    await h.bench.post(url, { ...width, peakTonnes: 101 }).expect(400)
    const pin = await h.bench.post(url, { kind: 'pin', phase: 'kit', values: [{ place: 'left-0', mm: 35 }], peakTonnes: 5 }).expect(400)
    expect(pin.body.errors[0].pointer).toBe('/peakTonnes')
  })
})

test('pin and bore are asked about beside the pin Ø of the sheet', async () => {
  const job = await bookJob(it)
  const pin = await take(h, h.bench, job, { kind: 'pin', phase: 'kit', values: [{ place: 'left-0', mm: 35.512 }] })
  expect(pin.odd?.[0]).toMatchObject({ code: 'not-by-the-sheet', place: 'left-0', likelyMm: 35.012 })
  const bore = await take(h, h.bench, job, { kind: 'bore', phase: 'building', values: [{ place: 'left-outer-0', mm: 34.905 }] })
  expect(bore).not.toHaveProperty('odd')
})
