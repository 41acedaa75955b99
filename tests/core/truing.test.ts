import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type TruingHeld, type TruingInput, type TruingOnSupports, truing, truingOnSupports } from '#core/truing.ts'
import { dialAt, readingsFrom, type SetUp } from '#core/truing-faults.ts'
import { fromMm, toMm } from '#core/units.ts'
import vectors from '#tests/vectors/truing.json' with { type: 'json' }
import { crankWith, readAt } from './rigid-crank.ts'
import { anyFaults, anySetUp } from './truing-cases.ts'

const SET_UP: SetUp = { supportLeftMm: 33, supportRightMm: 37, dialLeftMm: 44, dialRightMm: 26 }

function round(mm: readonly number[], turn = 0) {
  const step = 360 / mm.length
  return { readings: mm.map((value, index) => ({ clockDeg: index * step + turn, mm: value })) }
}

function solved(input: TruingInput): TruingOnSupports {
  const answer = truingOnSupports(input)
  if (!answer.ok) throw new Error(answer.reason)
  return answer.value
}

function solvedHeld(input: TruingInput): TruingHeld {
  const answer = truing(input)
  if (!answer.ok) throw new Error(answer.reason)
  return answer.value as TruingHeld
}

const fourReadings = fc.array(fc.double({ min: -0.3, max: 0.3, noNaN: true }), { minLength: 4, maxLength: 4 })
const bothEnds = fc.record({ left: fourReadings, right: fourReadings })

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

describe('one main held true, in a lathe', () => {
  // The axis of turning is the held shaft itself; the dial on the other main reads δ + α × its distance.
  const faults = { swingMm: 0.08, openRad: 0.0007, throwMm: 0.01, cockedRad: 0 }
  const dialAway = (tilt: number, offset: number, distance: number) => offset + tilt * distance
  const far = SET_UP.supportRightMm + SET_UP.dialRightMm
  const rightMarks = [0, 1, 2, 3].map((quarter) => {
    const [r, t] = [dialAway(faults.openRad, faults.throwMm, far), dialAway(faults.cockedRad, faults.swingMm, far)]
    return [r, t, -r, -t][quarter]!
  })

  it('left held: the right end reads twice the swing straight', () => {
    const answer = solvedHeld({ strokeMm: 60, held: 'left', supportRightMm: 37, dialRightMm: 26, right: round(rightMarks) })
    expect(answer.faults).toEqual({ swingMm: expect.closeTo(0.08, 12) })
    expect(answer).not.toHaveProperty('left')
    expect(answer).not.toHaveProperty('bestReachable')
    expect(answer.verdict).toBe('swing')
    expect(answer.moves[0]).toMatchObject({
      action: 'strike',
      half: 'right',
      atDeg: 90,
      amountMm: expect.closeTo(0.08 * ((50 + 30) / 30), 12),
    })
    expect(answer.moves[0]!.say).toMatch(/if the pin is not cocked\.$/)
  })

  it('right held: mirrored, the left end is read and the left web is struck', () => {
    const answer = solvedHeld({ strokeMm: 60, held: 'right', supportLeftMm: 33, dialLeftMm: 44, left: round([0, -0.08, 0, 0.08]) })
    expect(answer.faults.swingMm).toBeCloseTo(0.08, 12)
    expect(answer.moves[0]).toMatchObject({ action: 'strike', half: 'left', atDeg: 270 })
    expect(answer).not.toHaveProperty('right')
  })

  it('looks at nothing of the held end', () => {
    const wanted = solvedHeld({ strokeMm: 60, held: 'left', supportRightMm: 37, dialRightMm: 26, right: round(rightMarks) })
    const given = solvedHeld({ strokeMm: 60, held: 'left', ...SET_UP, left: round([9, 9, 9, 0]), right: round(rightMarks) })
    expect(given).toEqual(wanted)
  })

  it('leaves alone what the dial cannot tell', () => {
    const answer = solvedHeld({
      strokeMm: 60,
      held: 'left',
      supportRightMm: 37,
      dialRightMm: 26,
      right: round([0, 0.004, 0, -0.004]),
      readingDoubtMm: 0.008,
    })
    expect(answer.moves.map((move) => move.action)).toEqual(['leave'])
  })
})

describe('truing refuses', () => {
  const good: TruingInput = { strokeMm: 60, ...SET_UP, left: round([0, 0.05, 0, -0.05]), right: round([0, -0.05, 0, 0.05]) }

  it.each([
    ['left', round([0, 1]), 'too-few-points', /^Left end: Read at three/],
    [
      'right',
      { readings: [0, 0.01, 0.02].map((clockDeg) => ({ clockDeg, mm: 0 })) },
      'marks-too-close',
      /^Right end: The marks lie too close/,
    ],
  ] as const)('in words what the %s end cannot tell', (end, read, reason, detail) => {
    const answer = truing({ ...good, [end]: read })
    expect(answer).toMatchObject({ ok: false, reason })
    expect(!answer.ok && answer.detail).toMatch(detail)
  })

  it.each<[string, Partial<TruingInput>]>([
    ['a stroke of 9', { strokeMm: 9 }],
    ['a support of 0', { supportLeftMm: 0 }],
    ['no right support', { supportRightMm: undefined }],
    ['a dial at 0', { dialLeftMm: 0 }],
    ['a dial at its support', { dialRightMm: -0.5 }],
    ['no dial', { dialRightMm: undefined }],
    ['a rim radius of 4', { rimRadiusMm: 4 }],
    ['a doubt below nothing', { readingDoubtMm: -1 }],
    ['a limit that is no number', { limitTirMm: Number.NaN }],
    ['one limit over 20', { limitTirMm: { leftMm: 0.02, rightMm: 21 } }],
    ['no left end', { left: undefined }],
    ['an end with nothing', { left: {} }],
    ['an end with both', { left: { ...round([0, 1, 2, 3]), tirMm: 0.1, highAtDeg: 0 } }],
    ['a full swing without its high spot', { left: { tirMm: 0.1 } }],
    ['a high spot without its full swing', { left: { highAtDeg: 10 } }],
    ['a full swing of 21', { left: { tirMm: 21, highAtDeg: 0 } }],
    ['a high spot that is no number', { left: { tirMm: 0.1, highAtDeg: Number.NaN } }],
  ])('misuse: %s', (_name, part) => {
    expect(() => truing({ ...good, ...part })).toThrow(/^truing needs /)
  })

  it('and takes what lies at the very edge', () => {
    const edge = solved({
      ...good,
      strokeMm: 300,
      supportLeftMm: 1000,
      dialLeftMm: -1,
      limitTirMm: 0,
      readingDoubtMm: 20,
      rimRadiusMm: 500,
    })
    expect(edge.verdict).toBe('cocked')
    expect(edge.moves.map((move) => move.action)).toEqual(['part'])
  })

  it('answers nothing but finite numbers', () => {
    fc.assert(
      fc.property(bothEnds, anySetUp, fc.constantFrom(undefined, 0, 0.02, 20), (ends, setUp, limitTirMm) => {
        const text = JSON.stringify(solved({ strokeMm: 60, ...setUp, left: round(ends.left), right: round(ends.right), limitTirMm }))
        expect(text).not.toContain('null')
      }),
    )
    const still = solved({ strokeMm: 60, ...SET_UP, left: round([1, 1, 1, 1]), right: { tirMm: 0, highAtDeg: 123 } })
    expect(still).toMatchObject({ left: { tirMm: 0, highAtDeg: 0 }, right: { tirMm: 0, highAtDeg: 0 }, verdict: 'swing' })
    expect(still.moves.map((move) => move.action)).toEqual(['leave'])
  })
})
