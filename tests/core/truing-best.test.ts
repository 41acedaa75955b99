import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bestReachable, type EndLimits } from '#core/truing-best.ts'
import { endOf, readingsFrom, type SetUp } from '#core/truing-faults.ts'
import vectors from '#tests/vectors/truing.json' with { type: 'json' }
import { anySetUp } from './truing-cases.ts'

interface Best {
  name: string
  source: string
  status: string
  tolerance: Record<'worst' | 'swingMm' | 'openRad', number>
  input: { setUp: SetUp; throwMm: number; cockedRad: number; limits: EndLimits }
  expected: Record<'worst' | 'swingMm' | 'openRad', number>
}
const rows = vectors.filter((row) => row.kind === 'best-reachable') as unknown as Best[]
const EVEN: EndLimits = { leftMm: 1, rightMm: 1 }

/** The greater of full swing over limit, by the forward model. */
function worst(throwMm: number, cockedRad: number, swingMm: number, openRad: number, setUp: SetUp, limits: EndLimits): number {
  const { left, right } = readingsFrom({ swingMm, openRad, throwMm, cockedRad }, setUp)
  return Math.max(endOf(left).tirMm / limits.leftMm, endOf(right).tirMm / limits.rightMm)
}

/** The least of a convex function over a stretch, by golden section. */
function leastOver(low: number, high: number, height: (x: number) => number): { x: number; height: number } {
  const golden = (Math.sqrt(5) - 1) / 2
  let [a, b] = [low, high]
  let [c, d] = [b - golden * (b - a), a + golden * (b - a)]
  let [atC, atD] = [height(c), height(d)]
  for (let step = 0; step < 90; step++) {
    if (atC < atD) {
      ;[b, d, atD] = [d, c, atC]
      c = b - golden * (b - a)
      atC = height(c)
    } else {
      ;[a, c, atC] = [c, d, atD]
      d = a + golden * (b - a)
      atD = height(d)
    }
  }
  return atC < atD ? { x: c, height: atC } : { x: d, height: atD }
}

/** The slow way: a search in a search. */
function nestedSearch(throwMm: number, cockedRad: number, setUp: SetUp, limits: EndLimits): number {
  const longest = setUp.supportLeftMm + setUp.supportRightMm
  const widest = Math.abs(cockedRad) * longest
  const steepest = Math.abs(throwMm) / Math.min(setUp.supportLeftMm, setUp.supportRightMm)
  return leastOver(
    -widest,
    widest,
    (swing) => leastOver(-steepest, steepest, (open) => worst(throwMm, cockedRad, swing, open, setUp, limits)).height,
  ).height
}

const throws = fc.double({ min: -0.05, max: 0.05, noNaN: true })
const tilts = fc.double({ min: -0.001, max: 0.001, noNaN: true })
const limit = fc.double({ min: 0.005, max: 0.1, noNaN: true })
const anyLimits = fc.oneof(fc.constant(EVEN), fc.record({ leftMm: limit, rightMm: limit }))

describe('bestReachable', () => {
  it.each(rows)('$name ($source, $status)', ({ input, expected, tolerance }) => {
    const best = bestReachable(input, input.setUp, input.limits)
    const ratio = Math.max(best.leftTirMm / input.limits.leftMm, best.rightTirMm / input.limits.rightMm)
    expect(Math.abs(ratio - expected.worst)).toBeLessThan(tolerance.worst)
    expect(Math.abs(best.swingMm - expected.swingMm)).toBeLessThan(tolerance.swingMm)
    expect(Math.abs(best.openRad - expected.openRad)).toBeLessThan(tolerance.openRad)
  })

  it('is what a nested search finds, and no worse', () => {
    fc.assert(
      fc.property(throws, tilts, anySetUp, anyLimits, (throwMm, cockedRad, setUp, limits) => {
        const best = bestReachable({ throwMm, cockedRad }, setUp, limits)
        const exact = Math.max(best.leftTirMm / limits.leftMm, best.rightTirMm / limits.rightMm)
        const searched = nestedSearch(throwMm, cockedRad, setUp, limits)
        expect(exact).toBeLessThanOrEqual(searched * (1 + 1e-9) + 1e-15)
        expect(exact).toBeGreaterThanOrEqual(searched * (1 - 1e-5) - 1e-9)
      }),
      { numRuns: 200 },
    )
  })

  it('names the swing and open that give it', () => {
    fc.assert(
      fc.property(throws, tilts, anySetUp, anyLimits, (throwMm, cockedRad, setUp, limits) => {
        const best = bestReachable({ throwMm, cockedRad }, setUp, limits)
        const { left, right } = readingsFrom({ throwMm, cockedRad, swingMm: best.swingMm, openRad: best.openRad }, setUp)
        expect(endOf(left).tirMm).toBeCloseTo(best.leftTirMm, 12)
        expect(endOf(right).tirMm).toBeCloseTo(best.rightTirMm, 12)
        // At the best both ends are equally bad, each against its own limit.
        expect(best.leftTirMm / limits.leftMm).toBeCloseTo(best.rightTirMm / limits.rightMm, 9)
      }),
    )
  })

  it('is nothing where nothing stands in the way', () => {
    const setUp: SetUp = { supportLeftMm: 38, supportRightMm: 40, dialLeftMm: 45, dialRightMm: -52 }
    expect(bestReachable({ throwMm: 0, cockedRad: 0 }, setUp)).toEqual({ leftTirMm: 0, rightTirMm: 0, swingMm: 0, openRad: 0 })
  })

  it('comes to the one-fault forms at both ends of x', () => {
    fc.assert(
      fc.property(throws, tilts, anySetUp, (throwMm, cockedRad, setUp) => {
        const [p, q] = [Math.abs(setUp.dialLeftMm), Math.abs(setUp.dialRightMm)]
        const throwAlone = bestReachable({ throwMm, cockedRad: 0 }, setUp)
        const cockedAlone = bestReachable({ throwMm: 0, cockedRad }, setUp)
        expect(throwAlone.leftTirMm).toBeCloseTo((2 * Math.abs(throwMm)) / (setUp.supportLeftMm / p + setUp.supportRightMm / q), 12)
        expect(cockedAlone.leftTirMm).toBeCloseTo((2 * Math.abs(cockedRad)) / (1 / p + 1 / q), 12)
        expect(throwAlone.swingMm).toBeCloseTo(0, 15)
        expect(cockedAlone.openRad).toBeCloseTo(0, 15)
      }),
    )
  })

  it('holds at the edges: one fault a billionth of the other, a limit of 0 at one end or both', () => {
    const setUp: SetUp = { supportLeftMm: 33, supportRightMm: 37, dialLeftMm: 44, dialRightMm: 26 }
    const near = bestReachable({ throwMm: 0.02, cockedRad: 1e-13 }, setUp)
    expect(near.leftTirMm).toBeCloseTo(bestReachable({ throwMm: 0.02, cockedRad: 0 }, setUp).leftTirMm, 10)
    const strict = bestReachable({ throwMm: 0.02, cockedRad: 0.0003 }, setUp, { leftMm: 0, rightMm: 0.02 })
    expect(strict.leftTirMm).toBe(0)
    expect(strict.rightTirMm).toBeGreaterThan(0)
    const none = bestReachable({ throwMm: 0.02, cockedRad: 0.0003 }, setUp, { leftMm: 0, rightMm: 0 })
    expect(none).toEqual(bestReachable({ throwMm: 0.02, cockedRad: 0.0003 }, setUp))
  })
})
