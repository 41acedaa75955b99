import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type TruingInput, truingOnSupports } from '#core/truing.ts'
import { dialAt, readingsFrom, type SetUp } from '#core/truing-faults.ts'
import { fromMm, toMm } from '#core/units.ts'
import vectors from '#tests/vectors/truing.json' with { type: 'json' }
import { crankWith, readAt } from './rigid-crank.ts'
import { anyFaults, anySetUp } from './truing-cases.ts'
import { bothEnds, round, SET_UP, solved } from './truing-solved.ts'

interface ReadToFive {
  name: string
  source: string
  status: string
  tolerance: Record<string, number>
  input: { setUp: SetUp; leftMm: number[]; rightMm: number[] }
  expected: Record<string, number>
}

describe('truing from readings', () => {
  const rows = vectors.filter((row) => row.kind === 'read-to-0.005') as unknown as ReadToFive[]

  it.each(rows)('$name ($source, $status)', ({ input, expected, tolerance }) => {
    const { faults } = solved({ strokeMm: 72, ...input.setUp, left: round(input.leftMm), right: round(input.rightMm) })
    for (const [name, wanted] of Object.entries(expected)) {
      const found = (faults as unknown as Record<string, number>)[name]!
      expect(Math.abs(found - wanted), name).toBeLessThanOrEqual(tolerance[name]!)
    }
  })

  it('finds the faults of rigid halves turned in three dimensions', () => {
    fc.assert(
      fc.property(anyFaults, anySetUp, (faults, setUp) => {
        const seen = readAt(crankWith(faults, 60), setUp, [0, 45, 90, 135, 180, 225, 270, 315])
        const { faults: found } = solved({ strokeMm: 60, ...setUp, left: round(seen.left), right: round(seen.right) })
        const [p, q] = [Math.abs(setUp.dialLeftMm), Math.abs(setUp.dialRightMm)]
        const offset = 2e-4 * (setUp.supportLeftMm / p + setUp.supportRightMm / q)
        const tilt = 2e-4 * (1 / p + 1 / q)
        expect(Math.abs(found.swingMm - faults.swingMm)).toBeLessThan(offset)
        expect(Math.abs(found.throwMm - faults.throwMm)).toBeLessThan(offset)
        expect(Math.abs(found.openRad - faults.openRad)).toBeLessThan(tilt)
        expect(Math.abs(found.cockedRad - faults.cockedRad)).toBeLessThan(tilt)
      }),
      { numRuns: 60 },
    )
  })

  it('answers the same from a full swing and its high spot', () => {
    fc.assert(
      fc.property(bothEnds, anySetUp, (ends, setUp) => {
        const read = solved({ strokeMm: 60, ...setUp, left: round(ends.left), right: round(ends.right), limitTirMm: 0.05 })
        const given = solved({
          strokeMm: 60,
          ...setUp,
          left: read.left,
          right: { ...read.right, highAtDeg: read.right.highAtDeg - 720 },
          limitTirMm: 0.05,
        } as TruingInput)
        expect(given.faults.swingMm).toBeCloseTo(read.faults.swingMm, 9)
        expect(given.faults.openRad).toBeCloseTo(read.faults.openRad, 9)
        expect(given.left).toEqual({ tirMm: read.left.tirMm, highAtDeg: read.left.highAtDeg })
        expect(given.right.highAtDeg).toBeCloseTo(read.right.highAtDeg, 9)
        expect(given.left).not.toHaveProperty('residualMm')
      }),
    )
  })

  it('hands the full swing through untouched, so that a limit of just as much is met', () => {
    const at = (tirMm: number) => ({ tirMm, highAtDeg: 37 })
    expect(solved({ strokeMm: 60, ...SET_UP, left: at(0.02), right: at(0.02), limitTirMm: 0.02 }).verdict).toBe('true')
    expect(solved({ strokeMm: 60, ...SET_UP, left: at(0.02), right: at(0.0201), limitTirMm: 0.02 }).verdict).not.toBe('true')
  })
})

describe('truing does not depend on', () => {
  it('how the dials were set to zero', () => {
    const shift = fc.double({ min: -40, max: 40, noNaN: true })
    fc.assert(
      fc.property(bothEnds, shift, shift, (ends, leftShift, rightShift) => {
        const plain = solved({ strokeMm: 60, ...SET_UP, left: round(ends.left), right: round(ends.right) })
        const moved = solved({
          strokeMm: 60,
          ...SET_UP,
          left: round(ends.left.map((mm) => mm + leftShift)),
          right: round(ends.right.map((mm) => mm + rightShift)),
        })
        expect(moved.faults.swingMm).toBeCloseTo(plain.faults.swingMm, 10)
        expect(moved.faults.openRad).toBeCloseTo(plain.faults.openRad, 12)
        expect(moved.left.tirMm).toBeCloseTo(plain.left.tirMm, 11)
      }),
    )
  })

  it('the unit the dial is marked in: thou turned into mm, all lengths and all', () => {
    fc.assert(
      fc.property(bothEnds, (ends) => {
        const through = (mm: number) => toMm(fromMm(mm, 'thou'), 'thou')
        const plain = solved({ strokeMm: 60, ...SET_UP, left: round(ends.left), right: round(ends.right), limitTirMm: 0.02 })
        const inThou = solved({
          strokeMm: 60,
          ...SET_UP,
          left: round(ends.left.map(through)),
          right: round(ends.right.map(through)),
          limitTirMm: through(0.02),
        })
        expect(inThou.verdict).toBe(plain.verdict)
        expect(inThou.faults.swingMm).toBeCloseTo(plain.faults.swingMm, 13)
        // Everything twice as long: offsets double, tilts stay.
        const twice = (end: readonly number[]) => round(end.map((mm) => 2 * mm))
        const big = solved({
          strokeMm: 120,
          supportLeftMm: 66,
          supportRightMm: 74,
          dialLeftMm: 88,
          dialRightMm: 52,
          left: twice(ends.left),
          right: twice(ends.right),
          limitTirMm: 0.04,
        })
        expect(big.verdict).toBe(plain.verdict)
        expect(big.faults.swingMm).toBeCloseTo(2 * plain.faults.swingMm, 12)
        expect(big.faults.openRad).toBeCloseTo(plain.faults.openRad, 12)
        expect(big.bestReachable.swingMm).toBeCloseTo(2 * plain.bestReachable.swingMm, 10)
      }),
    )
  })

  it('which marks were read, as long as they are the same turn', () => {
    fc.assert(
      fc.property(anyFaults, fc.uniqueArray(fc.integer({ min: 0, max: 11 }), { minLength: 4, maxLength: 12 }), (faults, hours) => {
        const arrows = readingsFrom(faults, SET_UP)
        const marks = hours.map((hour) => hour * 30)
        const read = (end: 'left' | 'right') => ({ readings: marks.map((clockDeg) => ({ clockDeg, mm: dialAt(arrows[end], clockDeg) })) })
        const answer = truingOnSupports({ strokeMm: 60, ...SET_UP, left: read('left'), right: read('right') })
        fc.pre(answer.ok)
        if (!answer.ok) return
        expect(answer.value.faults.swingMm).toBeCloseTo(faults.swingMm, 10)
        expect(answer.value.faults.throwMm).toBeCloseTo(faults.throwMm, 10)
        expect(answer.value.left.residualMm).toBeLessThan(1e-12)
      }),
    )
  })
})

describe('truing turns with the crank', () => {
  it('all marks moved on by an angle turn both offsets and both tilts by it', () => {
    fc.assert(
      fc.property(bothEnds, fc.double({ min: -360, max: 360, noNaN: true }), (ends, turn) => {
        const plain = solved({ strokeMm: 60, ...SET_UP, left: round(ends.left), right: round(ends.right) })
        const turned = solved({ strokeMm: 60, ...SET_UP, left: round(ends.left, turn), right: round(ends.right, turn) })
        const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)]
        expect(turned.left.tirMm).toBeCloseTo(plain.left.tirMm, 10)
        expect(turned.faults.throwMm).toBeCloseTo(plain.faults.throwMm * cos - plain.faults.swingMm * sin, 9)
        expect(turned.faults.swingMm).toBeCloseTo(plain.faults.throwMm * sin + plain.faults.swingMm * cos, 9)
        expect(turned.faults.openRad).toBeCloseTo(plain.faults.openRad * cos - plain.faults.cockedRad * sin, 9)
        expect(turned.faults.cockedRad).toBeCloseTo(plain.faults.openRad * sin + plain.faults.cockedRad * cos, 9)
      }),
    )
  })

  it('ends changed about: swing and throw change sign, open and cocked stay', () => {
    fc.assert(
      fc.property(bothEnds, anySetUp, (ends, setUp) => {
        const plain = solved({
          strokeMm: 60,
          ...setUp,
          left: round(ends.left),
          right: round(ends.right),
          limitTirMm: { leftMm: 0.02, rightMm: 0.05 },
        })
        const swapped = solved({
          strokeMm: 60,
          supportLeftMm: setUp.supportRightMm,
          supportRightMm: setUp.supportLeftMm,
          dialLeftMm: setUp.dialRightMm,
          dialRightMm: setUp.dialLeftMm,
          left: round(ends.right),
          right: round(ends.left),
          limitTirMm: { leftMm: 0.05, rightMm: 0.02 },
        })
        expect(swapped.faults.swingMm).toBeCloseTo(-plain.faults.swingMm, 9)
        expect(swapped.faults.throwMm).toBeCloseTo(-plain.faults.throwMm, 9)
        expect(swapped.faults.openRad).toBeCloseTo(plain.faults.openRad, 9)
        expect(swapped.faults.cockedRad).toBeCloseTo(plain.faults.cockedRad, 9)
        expect(swapped.bestReachable.leftTirMm).toBeCloseTo(plain.bestReachable.rightTirMm, 9)
        expect(swapped.bestReachable.swingMm).toBeCloseTo(-plain.bestReachable.swingMm, 9)
        expect(swapped.verdict).toBe(plain.verdict)
      }),
    )
  })

  it('marks read the other way round: swing and cocked change sign, and the blow goes to the other side', () => {
    fc.assert(
      fc.property(bothEnds, (ends) => {
        const back = ([twelve, three, six, nine]: readonly number[]) => round([twelve!, nine!, six!, three!])
        const plain = solved({ strokeMm: 60, ...SET_UP, left: round(ends.left), right: round(ends.right) })
        const other = solved({ strokeMm: 60, ...SET_UP, left: back(ends.left), right: back(ends.right) })
        expect(other.faults.swingMm).toBeCloseTo(-plain.faults.swingMm, 10)
        expect(other.faults.cockedRad).toBeCloseTo(-plain.faults.cockedRad, 10)
        expect(other.faults.openRad).toBeCloseTo(plain.faults.openRad, 10)
        const blow = plain.moves.find((move) => move.action === 'strike')
        const otherBlow = other.moves.find((move) => move.action === 'strike')
        expect(otherBlow?.atDeg).toBe(blow?.atDeg === undefined ? undefined : 360 - blow.atDeg)
      }),
    )
  })
})
