import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { drawCrank } from '#core/crank-drawing.ts'
import { type CrankDrawingOptions, roughTextWidth } from '#core/crank-drawing-sheet.ts'
import { type CrankGeometry, type CrankThrow, radiusAt, SURFACES, shapeOfCrank, WAYS_OF_HOLDING } from '#core/crank-shape.ts'
import { endMark } from '#core/end-mark.ts'
import type { CircleMark, Drawing, PathMark, TextMark } from '#core/marks.ts'

// Figures of invented engines of the demonstration shop.
const single: CrankGeometry = {
  strokeMm: 62.4,
  throws: [{ atMm: 0, widthMm: 64, engagementMm: 21.8, pinDiameterMm: 35, pinLengthMm: 63.4 }],
  left: { supportMm: 44, dialMm: 45, surface: 'taper', taper: 5, keyway: { fromMm: 25, toMm: 40 } },
  right: { supportMm: 44, dialMm: 50, surface: 'plain', diameterMm: 20, further: [{ fromMm: 60, surface: 'thread' }] },
}
const uneven: CrankGeometry = {
  strokeMm: 51.4,
  throws: [{ atMm: 0, widthMm: 47.5, engagementMm: 16.1, pinDiameterMm: 20 }],
  left: { supportMm: 33, dialMm: 44, surface: 'taper', taper: 8 },
  right: { supportMm: 37, dialMm: 26, surface: 'spline' },
}
const near: CrankGeometry = {
  ...uneven,
  left: { supportMm: 27, dialMm: 6, surface: 'plain' },
  right: { supportMm: 27, dialMm: 6, surface: 'plain' },
}
const inboard: CrankGeometry = {
  ...single,
  left: { supportMm: 95, dialMm: -51, surface: 'plain' },
  right: { supportMm: 105, dialMm: -61, surface: 'plain' },
}
const twin: CrankGeometry = {
  strokeMm: 54.6,
  throws: [
    { atMm: -59, widthMm: 46, engagementMm: 16, pinDiameterMm: 22 },
    { atMm: 59, widthMm: 46, engagementMm: 16, pinDiameterMm: 22, turnedDeg: 180 },
  ],
  left: { supportMm: 17, dialMm: 100, surface: 'taper', taper: 5 },
  right: { supportMm: 17, dialMm: 104, surface: 'plain' },
}
const onBlocks: CrankDrawingOptions = { held: 'v-blocks-bare', width: 690, maxHeight: 300, text: 14 }

function texts(drawing: Drawing): TextMark[] {
  return drawing.marks.filter((mark): mark is TextMark => mark.kind === 'text')
}

function boxOf(mark: TextMark): { left: number; right: number; top: number; bottom: number } {
  const wide = roughTextWidth(mark.text, mark.size)
  const left = mark.anchor === 'middle' ? mark.x - wide / 2 : mark.anchor === 'end' ? mark.x - wide : mark.x
  return { left, right: left + wide, top: mark.y - mark.size * 0.75, bottom: mark.y + mark.size * 0.2 }
}

function clashes(drawing: Drawing): string[] {
  const all = texts(drawing).map((mark) => ({ text: mark.text, ...boxOf(mark) }))
  const found: string[] = []
  for (const [i, a] of all.entries()) {
    if (a.left < -0.01 || a.right > drawing.width + 0.01 || a.top < -0.01 || a.bottom > drawing.height + 0.01)
      found.push(`${a.text} leaves the sheet`)
    for (const b of all.slice(i + 1)) {
      if (a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom) found.push(`${a.text} on ${b.text}`)
    }
  }
  return found
}

/** Vertical stems are the only paths of one V from a mark down to the shaft: left plain, right dashed. */
function stems(drawing: Drawing): { left: number; right: number } {
  const paths = drawing.marks.filter(
    (mark): mark is PathMark => mark.kind === 'path' && /^M[\d.-]+ [\d.-]+V[\d.-]+$/.test(mark.d) && mark.stroke === 'ink',
  )
  const at = (mark: PathMark | undefined) => Number(mark!.d.match(/^M([\d.-]+)/)![1])
  return { left: at(paths.find((path) => !path.dash)), right: at(paths.find((path) => path.dash)) }
}

describe('drawCrank', () => {
  it('is drawn to one scale, along the crank and across it', () => {
    const drawing = drawCrank(single, onBlocks)
    const { left, right } = stems(drawing)
    const scale = (right - left) / (45 + 44 + 44 + 50)
    const webs = drawing.marks.filter((mark): mark is PathMark => mark.kind === 'path' && mark.fill === 'sheet')
    const heights = webs.map((web) => {
      const [, top, bottom] = web.d.match(/^M[\d.-]+ ([\d.-]+)H[\d.-]+V([\d.-]+)H/) ?? ['', '0', '0']
      return Number(bottom) - Number(top)
    })
    // Rim radius by default half the stroke and 20 mm, so the webs stand 2 × 51.2 mm high.
    expect(Math.max(...heights) / scale).toBeCloseTo(102.4, 1)
  })

  it.each([
    ['long enough', single],
    ['uneven span', uneven],
    ['dials close to their supports', near],
    ['two throws held at the inner mains', twin],
  ])('lettering keeps clear with labels over and under: %s', (_name, geometry) => {
    for (const [width, maxHeight, text] of [
      [690, 260, 14],
      [340, 240, 9],
      [260, 400, 10],
    ] as const) {
      const over = {
        left: ['0.19 as received', '0.012 now, a little before 3 o’clock'],
        pin: ['pin 35.012'],
        right: ['0.21 as received', '0.014 now'],
      }
      const under = { left: ['taper 1:5, keyway skipped'], right: ['plain ground, clear of the seal land'] }
      const drawing = drawCrank(geometry, { held: 'v-blocks-bearings', width, maxHeight, text, spans: true, over, under })
      expect(clashes(drawing)).toEqual([])
    }
  })

  it('lettering keeps clear and inside the sheet for whatever a shop may hold', () => {
    const end = fc.record({
      supportMm: fc.integer({ min: 20, max: 200 }),
      dialMm: fc.oneof(fc.integer({ min: 1, max: 150 }), fc.integer({ min: -60, max: -1 })),
      surface: fc.constantFrom(...SURFACES),
    })
    const any = fc.record({
      strokeMm: fc.integer({ min: 30, max: 110 }),
      throws: fc.constant<CrankThrow[]>([{ atMm: 0, widthMm: 60, engagementMm: 20, pinDiameterMm: 22 }]),
      left: end,
      right: end,
    })
    fc.assert(
      fc.property(any, fc.constantFrom(...WAYS_OF_HOLDING), fc.constantFrom(9, 14, 24), (geometry, held, text) => {
        const drawing = drawCrank(geometry, { held, width: 690, maxHeight: 320, text, spans: true })
        expect(clashes(drawing)).toEqual([])
        expect(drawing.height).toBeLessThanOrEqual(320)
        expect(JSON.stringify(drawing)).not.toContain('null')
      }),
      { numRuns: 300 },
    )
  })

  it('tells the two ends by form: filled disc on a solid line left, open square on a dashed line right', () => {
    expect(endMark(5, 6, true, 3)).toEqual({ kind: 'circle', x: 5, y: 6, r: 3, fill: 'ink' })
    const square = endMark(5, 6, false, 3) as PathMark
    expect([square.kind, square.fill, square.stroke]).toEqual(['path', 'paper', 'ink'])
    const drawing = drawCrank(single, onBlocks)
    const { left, right } = stems(drawing)
    const disc = drawing.marks.find((mark): mark is CircleMark => mark.kind === 'circle' && mark.fill === 'ink')
    expect(disc?.x).toBeCloseTo(left, 1)
    expect(right).toBeGreaterThan(left)
    expect(
      texts(drawing)
        .filter((mark) => mark.strong)
        .map((mark) => mark.text),
    ).toEqual(['L', 'R'])
  })

  it('puts an inboard dial between its support and the webs, and draws centres at the tips', () => {
    const drawing = drawCrank(inboard, { ...onBlocks, held: 'centres' })
    const { left, right } = stems(drawing)
    const scale = (right - left) / (44 + 44)
    const shape = shapeOfCrank(inboard, 'centres')
    expect(shape.leftTipMm).toBe(-95)
    expect(shape.rightTipMm).toBe(105)
    expect(texts(drawing).map((mark) => mark.text)).toContain('51 mm')
    expect(drawing.label).toContain('51 mm in from its support')
    expect(scale).toBeGreaterThan(0)
  })

  it('says the place and the way of holding in one sentence', () => {
    expect(drawCrank(single, onBlocks).label).toBe(
      'The crank to one scale, held on bare seats in V-blocks, 44 mm to the left and 44 mm to the right of its centre. Left dial 45 mm out from its support, on the taper; right dial 50 mm out from its support, on the plain ground shaft.',
    )
  })

  it('refuses a sheet too small to letter', () => {
    expect(() => drawCrank(single, { ...onBlocks, width: 100 })).toThrow(/^drawCrank needs /)
    expect(() => drawCrank(single, { ...onBlocks, text: Number.NaN })).toThrow(RangeError)
  })
})

describe('shapeOfCrank', () => {
  it('leaves between the webs what the width has over two engagements', () => {
    expect(shapeOfCrank(single, 'v-blocks-bare').webs).toEqual([
      { fromMm: -32, toMm: expect.closeTo(-10.2, 9) },
      { fromMm: expect.closeTo(10.2, 9), toMm: 32 },
    ])
  })

  it('lets a 1:5 taper lose a fifth of its length in diameter', () => {
    const taper = shapeOfCrank(single, 'v-blocks-bare').shaft.find((part) => part.kind === 'taper')!
    expect((2 * (taper.toRadiusMm - taper.fromRadiusMm)) / (taper.toMm - taper.fromMm)).toBeCloseTo(0.2, 9)
    // Mirrored on the left: thin at the tip, thick at the seat.
    expect(taper.fromMm).toBe(-97)
  })

  it('knows how thick the crank is at a place', () => {
    const shape = shapeOfCrank(single, 'v-blocks-bare')
    expect(radiusAt(shape, 20)).toBeCloseTo(51.2, 9)
    expect(radiusAt(shape, 44 + 50)).toBe(10)
    expect(radiusAt(shape, 500)).toBe(0)
  })

  it('turns the second throw of a twin down', () => {
    expect(shapeOfCrank(twin, 'v-blocks-bare').pins.map((pin) => Math.round(pin.upMm * 10) / 10)).toEqual([27.3, -27.3])
  })

  it.each([
    ['no throw', { throws: [] }],
    ['a stroke of nothing', { strokeMm: Number.NaN }],
    ['webs without a gap', { throws: [{ atMm: 0, widthMm: 40, engagementMm: 20, pinDiameterMm: 22 }] }],
    ['a dial on its support', { left: { supportMm: 44, dialMm: 0, surface: 'plain' as const } }],
    ['throws that overlap', { throws: [twin.throws[0]!, { ...twin.throws[1]!, atMm: -40 }] }],
  ])('refuses %s', (_name, change) => {
    expect(() => shapeOfCrank({ ...single, ...change }, 'v-blocks-bare')).toThrow(/^shapeOfCrank needs /)
  })
})
