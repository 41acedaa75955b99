import { describe, expect, it } from 'vitest'
import { slipBehind } from '#core/bench/odd-figure-slip.ts'
import { type OddAsked, oddReadings } from '#core/bench/odd-reading.ts'

const SHEET = { widthMinMm: 63.95, widthMaxMm: 64.05, pinDiameterMm: 35 }

function asked(values: number[] | Record<string, number>, more: Partial<OddAsked> = {}): OddAsked {
  const listed = Array.isArray(values)
    ? values.map((mm, place) => ({ place: String(place * 90), mm }))
    : Object.entries(values).map(([place, mm]) => ({ place, mm }))
  return { kind: 'width', phase: 'received', values: listed, temperatureC: null, sheet: SHEET, oursMm: [], beforeMm: null, ...more }
}

const codes = (one: OddAsked) => oddReadings(one).map(({ code, place }) => (place === undefined ? code : `${code} ${place}`))

// Source of every reach: common practice, no source. A thimble of 0.5 mm and frames of 25 mm: from memory.
describe('a slip of the hand', () => {
  it.each([
    [6.4, 'decimal', 64],
    [640, 'decimal', 64],
    [0.64, 'decimal', 64],
    [64.52, 'half-turn', 64.02],
    [63.5, 'half-turn', 64],
    [39.01, 'frame', 64.01],
    [89.01, 'frame', 64.01],
    [2.52, 'inch', 64.008],
  ] as const)('%f is a %s of %f', (read, kind, mm) => {
    expect(slipBehind(read, { minMm: 63.95, maxMm: 64.05 })).toEqual({ kind, mm })
  })

  it('that explains nothing is not claimed', () => {
    expect(slipBehind(61.2, { minMm: 63.95, maxMm: 64.05 })).toBeNull()
  })
})

describe('a width', () => {
  it('within the window, or spread as a dropped crank is, is not asked about', () => {
    expect(oddReadings(asked([63.99, 64.01, 64.06, 64]))).toEqual([])
    expect(oddReadings(asked([63.8, 64.01, 64.25, 64]))).toEqual([])
  })

  it('far from the sheet is asked about in words, with what it would be without the slip', () => {
    expect(oddReadings(asked([6.4]))).toEqual([
      {
        code: 'not-by-the-sheet',
        place: '0',
        likelyMm: 64,
        says: 'Is it really 6.4? The sheet says 63.95 to 64.05. With the mark moved it is 64.00.',
      },
    ])
    expect(oddReadings(asked([64.5]))[0]?.says).toContain('One turn of the thimble, half a millimetre, makes it 64.00.')
    expect(oddReadings(asked([61.2]))[0]).toEqual({
      code: 'not-by-the-sheet',
      place: '0',
      says: 'Is it really 61.2? The sheet says 63.95 to 64.05.',
    })
  })

  it('stands at the edge of the reach without a question, a hundredth further with one', () => {
    expect(codes(asked([64.35]))).toEqual([])
    expect(codes(asked([64.36]))).toEqual(['not-by-the-sheet 0'])
  })

  it('that leaves the other three is named by its place, also without a sheet', () => {
    expect(codes(asked([64.0, 64.51, 64.02, 64.01], { sheet: {} }))).toEqual(['not-like-the-others 90'])
    expect(oddReadings(asked([64.0, 64.51, 64.02, 64.01], { sheet: {} }))[0]?.likelyMm).toBe(64.01)
    expect(codes(asked([64.0, 64.51, 64.02, 64.52], { sheet: {} }))).toEqual([])
  })

  it('on the way under the ram may be wide of the window, but not under it, and does not leave the row of taps', () => {
    const building = { phase: 'building' } as const
    expect(codes(asked([72], building))).toEqual([])
    expect(codes(asked([63.6], building))).toEqual(['not-by-the-sheet 0'])
    expect(
      codes(
        asked(
          [60.03].map((mm) => mm + 4),
          { ...building, beforeMm: 64.06 },
        ),
      ),
    ).toEqual([])
    expect(codes(asked([64.55], { ...building, beforeMm: 64.06 }))).toEqual(['not-like-the-tap-before 0'])
    expect(oddReadings(asked([64.55], { ...building, beforeMm: 64.06 }))[0]?.likelyMm).toBe(64.05)
    expect(codes(asked([68.02], { ...building, beforeMm: 70 }))).toEqual(['not-like-the-tap-before 0'])
  })
})

describe('beside our own last ones (odd one out: Iglewicz and Hoaglin 1993, NIST e-Handbook 1.3.5.17)', () => {
  const ours = [63.99, 64.01, 64.0, 64.02, 63.98, 64.0]

  it('the middle is odd past a score of 3.5, with how many and their median said', () => {
    // Median 64.00, MAD 0.01: a middle of 64.16 scores 0.6745 × 0.16 / 0.01 = 10.8.
    const found = oddReadings(asked([64.16, 64.16, 64.16, 64.16], { oursMm: ours }))
    expect(found).toEqual([{ code: 'not-like-ours', count: 6, medianMm: 64, says: expect.stringContaining('The last 6 of this engine') }])
  })

  it('needs five of ours, and half a tenth between them at least', () => {
    expect(codes(asked([64.16, 64.16], { oursMm: ours.slice(0, 4) }))).toEqual([])
    expect(codes(asked([64.05, 64.05], { oursMm: ours }))).toEqual([])
  })

  it('of which most are one figure (MAD 0) judges by the distance alone', () => {
    const same = [64, 64, 64, 64, 64.01]
    expect(codes(asked([64.05, 64.05], { oursMm: same }))).toEqual([])
    expect(codes(asked([64.07, 64.07], { oursMm: same }))).toEqual(['not-like-ours'])
  })

  it('that spread widely let a like one pass', () => {
    expect(codes(asked([64.16, 64.16], { oursMm: [63.9, 64.2, 64.0, 64.1, 63.95, 64.15] }))).toEqual([])
  })

  it('is not asked of a tap, which is read at one place', () => {
    expect(codes(asked([64.3], { phase: 'building', oursMm: ours }))).toEqual([])
  })
})

describe('pin and bore', () => {
  it('are plausible beside the pin Ø of the sheet', () => {
    expect(codes(asked({ 'left-0': 35.012, 'right-0': 35.01 }, { kind: 'pin', phase: 'kit' }))).toEqual([])
    expect(codes(asked({ 'left-0': 3.5012 }, { kind: 'pin', phase: 'kit' }))).toEqual(['not-by-the-sheet left-0'])
    expect(oddReadings(asked({ 'left-outer-0': 34.405 }, { kind: 'bore', phase: 'building' }))[0]?.likelyMm).toBe(34.905)
  })

  it('of two webs are two things', () => {
    const bores = { 'left-outer-0': 34.9, 'left-inner-0': 34.9, 'right-outer-0': 34.78, 'right-inner-0': 34.78 }
    expect(codes(asked(bores, { kind: 'bore', phase: 'building', sheet: {} }))).toEqual([])
  })
})

describe('a warm part', () => {
  it('is said past 3 K with the figure of its correction (11.5e-6/K, JCGM 100:2008 H.1)', () => {
    expect(codes(asked([64, 64, 64, 64], { temperatureC: 23 }))).toEqual([])
    const [warm] = oddReadings(asked([64, 64, 64, 64], { temperatureC: 60 }))
    // 40 K × 11.5e-6 × 64 mm = 0.0294 mm.
    expect(warm?.wideMm).toBeCloseTo(0.0294, 4)
    expect(warm?.says).toBe('Read warm: 40 K from 20 °C it reads 0.029 wide. Never measure a width warm; let it come to the room.')
    expect(oddReadings(asked([64, 64], { temperatureC: 10 }))[0]?.says).toContain('Read cold: 10 K from 20 °C it reads 0.007 narrow.')
  })
})
