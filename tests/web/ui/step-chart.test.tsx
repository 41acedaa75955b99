import { cleanup, render, screen, within } from '@testing-library/react'
import fc from 'fast-check'
import { afterEach, describe, expect, test } from 'vitest'
import { StepChart } from '#web/ui/step-chart.tsx'
import { type StepCurve, shareAt, stepLayout } from '#web/ui/step-layout.ts'

afterEach(cleanup)

const others: StepCurve = {
  key: 'others',
  name: 'all other kits',
  dashed: false,
  falls: [
    { hours: 18, share: 0.996, low: 0.98, high: 0.999, atRisk: 270, back: 1 },
    { hours: 77, share: 0.965, low: 0.92, high: 0.984, atRisk: 33, back: 1 },
  ],
  heard: [
    { hours: 12, count: 1 },
    { hours: 27, count: 3 },
    { hours: 85, count: 1 },
    { hours: 93, count: 1 },
  ],
}
const lot: StepCurve = {
  key: 'lot',
  name: 'lot S-0936',
  dashed: true,
  falls: [
    { hours: 22, share: 0.93, low: 0.59, high: 0.99, atRisk: 14, back: 1 },
    { hours: 63, share: 0.62, low: 0.3, high: 0.83, atRisk: 6, back: 2 },
  ],
  heard: [{ hours: 40, count: 1 }],
}

const anyCurve = (key: string) =>
  fc
    .record({
      name: fc.constantFrom('lot S-0936', 'all other kits', 'Stellmarch lot S-0936', 'Jonas'),
      dashed: fc.boolean(),
      falls: fc.array(fc.record({ hours: fc.integer({ min: 1, max: 900 }), share: fc.double({ min: 0, max: 1, noNaN: true }) }), {
        maxLength: 12,
      }),
      heard: fc.array(fc.record({ hours: fc.integer({ min: 0, max: 900 }), count: fc.integer({ min: 1, max: 9 }) }), { maxLength: 30 }),
    })
    .map((curve): StepCurve => {
      const shares = curve.falls.map((fall) => fall.share).sort((a, b) => b - a)
      const falls = curve.falls
        .sort((a, b) => a.hours - b.hours)
        .map(({ hours }, place) => {
          const share = shares[place]!
          return { hours, share, low: share, high: share, atRisk: 40 - place, back: 1 }
        })
      return { ...curve, key, falls, heard: curve.heard.sort((a, b) => a.hours - b.hours) }
    })

const curves = fc
  .tuple(anyCurve('a'), anyCurve('b'), anyCurve('c'))
  .chain((all) => fc.integer({ min: 1, max: 3 }).map((n) => all.slice(0, n)))
const rooms = fc.record({ width: fc.integer({ min: 280, max: 1200 }), letter: fc.constantFrom(12.7, 15, 20) })

/** Every corner of a path of M, H and V. */
function cornersOf(path: string): { x: number; y: number }[] {
  const corners: { x: number; y: number }[] = []
  for (const [, kind, given] of path.matchAll(/([MHV])([^MHV]+)/g)) {
    const [first, second] = given!.split(' ').map(Number)
    const last = corners.at(-1)
    corners.push(kind === 'M' ? { x: first!, y: second! } : kind === 'H' ? { x: first!, y: last!.y } : { x: last!.x, y: first! })
  }
  return corners
}

describe('the layout of step curves', () => {
  test('no point and no tick is ever cut off, and no curve rises', () => {
    fc.assert(
      fc.property(curves, rooms, (given, room) => {
        const { plot, curves: drawn } = stepLayout(given, room)
        for (const curve of drawn) {
          const corners = cornersOf(curve.path)
          for (const { x, y } of [...corners, ...curve.heard]) {
            expect(x).toBeGreaterThanOrEqual(plot.left - 1e-6)
            expect(x).toBeLessThanOrEqual(plot.right + 1e-6)
            expect(y).toBeGreaterThanOrEqual(plot.top - 1e-6)
            expect(y).toBeLessThanOrEqual(plot.bottom + 1e-6)
          }
          corners.slice(1).forEach((corner, place) => {
            expect(corner.y).toBeGreaterThanOrEqual(corners[place]!.y - 1e-9)
          })
        }
      }),
    )
  })

  test('names do not lie on one another and stay in the picture', () => {
    fc.assert(
      fc.property(curves, rooms, (given, room) => {
        const { curves: drawn, height } = stepLayout(given, room)
        const inOrder = drawn.map((curve) => curve.label).sort((one, other) => one.y - other.y)
        inOrder.slice(1).forEach((label, place) => {
          const above = inOrder[place]!
          expect(label.y - above.y).toBeGreaterThanOrEqual(above.lines.length * room.letter * 1.2 - 1e-6)
        })
        for (const label of inOrder) {
          expect(label.y + (label.lines.length - 1) * room.letter * 1.2).toBeLessThanOrEqual(height)
          expect(label.y).toBeGreaterThan(0)
        }
      }),
    )
  })

  test('a curve ends where its own last crank was heard of, not at the edge', () => {
    const { curves: drawn, plot } = stepLayout([others, lot], { width: 520, letter: 15 })
    expect(cornersOf(drawn[0]!.path).at(-1)?.x).toBeCloseTo(plot.right, 6)
    // 63 of the 93 hours that the scale spans.
    expect(cornersOf(drawn[1]!.path).at(-1)?.x).toBeCloseTo(plot.left + (63 / 93) * (plot.right - plot.left), 6)
  })

  test('the scale up begins at a whole ten beneath the lowest share, and never above ninety', () => {
    const lowest = (share: number) =>
      stepLayout([{ ...lot, falls: [{ hours: 5, share, low: share, high: share, atRisk: 9, back: 1 }] }], {
        width: 520,
        letter: 15,
      }).upTicks.map((tick) => tick.value)
    expect(lowest(0.62)[0]).toBe(60)
    expect(lowest(0.995)[0]).toBe(90)
    expect(lowest(0)[0]).toBe(0)
  })

  test('what still runs at some hours', () => {
    expect([0, 17.9, 18, 76, 77, 500].map((hours) => shareAt(others, hours))).toEqual([1, 1, 0.996, 0.996, 0.965, 0.965])
  })
})

test('the picture and the table carry the same figures, and a tick is drawn wherever cranks were last heard of', () => {
  render(<StepChart curves={[others, lot]} caption="288 cranks." />)
  const picture = screen.getByRole('img', {
    name: 'Of a hundred, still running, by hours ridden: all other kits 96.5 at 93 h; lot S-0936 62.0 at 63 h.',
  })
  const rows = within(screen.getByRole('table', { name: 'Still running, by hours ridden' })).getAllByRole('row')
  expect(rows.slice(1).map((row) => Array.from(row.children, (cell) => cell.textContent))).toEqual([
    ['all other kits', '0', '100.0', '', '', '12'],
    ['all other kits', '18', '99.6', '98.0 to 99.9', '1 of 270', '27 (3)'],
    ['all other kits', '77', '96.5', '92.0 to 98.4', '1 of 33', '85, 93'],
    ['lot S-0936', '0', '100.0', '', '', 'none'],
    ['lot S-0936', '22', '93.0', '59.0 to 99.0', '1 of 14', '40'],
    ['lot S-0936', '63', '62.0', '30.0 to 83.0', '2 of 6', 'none'],
  ])
  const groups = Array.from(picture.querySelectorAll('[data-curve]'))
  const drawn = groups.map((group) => Array.from(group.querySelectorAll('path'), (path) => path.getAttribute('d')!))
  expect(drawn.map(([, ticks]) => ticks!.match(/M/g)?.length)).toEqual([4, 1])
  // Each fall is one step down in the picture.
  expect(drawn.map(([curve]) => curve!.match(/V/g)?.length)).toEqual([2, 2])
  expect(groups.map((group) => group.querySelector('path')!.getAttribute('stroke-dasharray'))).toEqual([null, '7 5'])
})
