import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { arrowOf, dialAt, endOf, type Faults, faultsFrom, readingsFrom, type SetUp } from '#core/truing-faults.ts'
import vectors from '#tests/vectors/truing.json' with { type: 'json' }
import { crankWith, gapAt, readAt } from './rigid-crank.ts'
import { anyFaults, anySetUp } from './truing-cases.ts'

const FOUR = [0, 90, 180, 270]

interface Worked {
  name: string
  source: string
  status: string
  tolerance: { readingMm: number; tirMm: number; highAtDeg: number }
  input: { setUp: SetUp; faults: Faults }
  expected: {
    leftMm: number[]
    rightMm: number[]
    left: { tirMm: number; highAtDeg: number }
    right: { tirMm: number; highAtDeg: number }
  }
}
const worked = vectors.filter((row) => row.kind === 'worked') as unknown as Worked[]

function degreesApart(one: number, other: number): number {
  const away = Math.abs(one - other) % 360
  return Math.min(away, 360 - away)
}

describe('forward: from the faults to both dials', () => {
  it.each(worked)('$name ($source, $status)', ({ input, expected, tolerance }) => {
    const arrows = readingsFrom(input.faults, input.setUp)
    for (const end of ['left', 'right'] as const) {
      FOUR.forEach((mark, index) => {
        expect(Math.abs(dialAt(arrows[end], mark) - expected[`${end}Mm`][index]!)).toBeLessThan(tolerance.readingMm)
      })
      const found = endOf(arrows[end])
      expect(Math.abs(found.tirMm - expected[end].tirMm)).toBeLessThan(tolerance.tirMm)
      expect(degreesApart(found.highAtDeg, expected[end].highAtDeg)).toBeLessThan(tolerance.highAtDeg)
    }
  })

  it('agrees with rigid halves turned in three dimensions, on blocks and between centres', () => {
    fc.assert(
      fc.property(anyFaults, anySetUp, (faults, setUp) => {
        const arrows = readingsFrom(faults, setUp)
        const seen = readAt(crankWith(faults, 60), setUp, FOUR)
        const mean = (values: number[]) => values.reduce((total, value) => total + value, 0) / values.length
        FOUR.forEach((mark, index) => {
          // Faults of some tenths of a mm leave terms of the second order, some ten-thousandths of a mm at most.
          expect(Math.abs(seen.left[index]! - mean(seen.left) - dialAt(arrows.left, mark))).toBeLessThan(2e-4)
          expect(Math.abs(seen.right[index]! - mean(seen.right) - dialAt(arrows.right, mark))).toBeLessThan(2e-4)
        })
      }),
    )
  })

  it('open + means wider apart opposite the pin, 0.11 mm across a web of 110 mm at 0.001 rad', () => {
    const crank = crankWith({ swingMm: 0, openRad: 0.001, throwMm: 0, cockedRad: 0 }, 72)
    expect(gapAt(crank, -55) - gapAt(crank, 55)).toBeCloseTo(0.11, 6)
  })
})

describe('back: from both dials to the faults', () => {
  it.each(worked)('$name from its own readings, within what their rounding costs', ({ input, expected, tolerance }) => {
    const arrow = (marks: number[]) => ({ radialMm: (marks[0]! - marks[2]!) / 2, tangentialMm: (marks[1]! - marks[3]!) / 2 })
    const found = faultsFrom(arrow(expected.leftMm), arrow(expected.rightMm), input.setUp)
    const { supportLeftMm: a, supportRightMm: b, dialLeftMm: p, dialRightMm: q } = input.setUp
    const offset = tolerance.readingMm * (a / p + b / q)
    const tilt = tolerance.readingMm * (1 / p + 1 / q)
    expect(Math.abs(found.swingMm - input.faults.swingMm)).toBeLessThan(offset)
    expect(Math.abs(found.throwMm - input.faults.throwMm)).toBeLessThan(offset)
    expect(Math.abs(found.openRad - input.faults.openRad)).toBeLessThan(tilt)
    expect(Math.abs(found.cockedRad - input.faults.cockedRad)).toBeLessThan(tilt)
  })

  it('undoes the forward model exactly', () => {
    fc.assert(
      fc.property(anyFaults, anySetUp, (faults, setUp) => {
        const { left, right } = readingsFrom(faults, setUp)
        const found = faultsFrom(left, right, setUp)
        expect(found.swingMm).toBeCloseTo(faults.swingMm, 12)
        expect(found.throwMm).toBeCloseTo(faults.throwMm, 12)
        expect(found.openRad).toBeCloseTo(faults.openRad, 13)
        expect(found.cockedRad).toBeCloseTo(faults.cockedRad, 13)
      }),
    )
  })

  it('opposite ends make a swing and like ends an opening, with dials outboard and inboard alike', () => {
    const even = (dialMm: number): SetUp => ({ supportLeftMm: 40, supportRightMm: 40, dialLeftMm: dialMm, dialRightMm: dialMm })
    for (const dialMm of [45, -30]) {
      const apart = faultsFrom({ radialMm: 0, tangentialMm: 0.05 }, { radialMm: 0, tangentialMm: -0.05 }, even(dialMm))
      expect([Math.sign(apart.swingMm), apart.cockedRad]).toEqual([Math.sign(dialMm), 0])
      const alike = faultsFrom({ radialMm: 0.05, tangentialMm: 0 }, { radialMm: 0.05, tangentialMm: 0 }, even(dialMm))
      expect([Math.sign(alike.openRad), alike.throwMm]).toEqual([Math.sign(dialMm), 0])
    }
  })
})

describe('an end as an arrow', () => {
  it('finds its way back', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 20, noNaN: true }), fc.double({ min: 0, max: 359.999, noNaN: true }), (tirMm, highAtDeg) => {
        const back = endOf(arrowOf({ tirMm, highAtDeg }))
        expect(back.tirMm).toBeCloseTo(tirMm, 12)
        expect(degreesApart(back.highAtDeg, highAtDeg)).toBeLessThan(1e-9)
      }),
    )
  })

  it('without length has no high spot, and answers 0', () => {
    expect(endOf({ radialMm: 0, tangentialMm: 0 })).toEqual({ tirMm: 0, highAtDeg: 0 })
  })
})
