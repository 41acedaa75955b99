import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fitRoundATurn, type MarkReading } from '#core/readings-round-a-turn.ts'
import vectors from '#tests/vectors/rounds.json' with { type: 'json' }

function fitted(readings: readonly MarkReading[]) {
  const turn = fitRoundATurn(readings)
  if (!turn.ok) throw new Error(turn.reason)
  return turn.value
}

const at = (marks: readonly number[], read: (radians: number) => number): MarkReading[] =>
  marks.map((clockDeg) => ({ clockDeg, mm: read((clockDeg * Math.PI) / 180) }))

describe('fitRoundATurn', () => {
  it.each(vectors)('$name ($source, $status)', ({ input, expected, tolerance }) => {
    const found = fitted(input.readings) as unknown as Record<string, number>
    for (const [name, wanted] of Object.entries(expected)) expect(Math.abs(found[name]! - wanted), name).toBeLessThanOrEqual(tolerance)
    expect('ovalMm' in found).toBe('ovalMm' in expected)
  })

  it('finds any mean, swing and oval that the readings were made from, at any marks that carry them', () => {
    const small = fc.double({ min: -2, max: 2, noNaN: true })
    const marks = fc
      .uniqueArray(fc.integer({ min: 0, max: 35 }), { minLength: 5, maxLength: 12 })
      .map((tens) => tens.map((ten) => ten * 10))
    fc.assert(
      fc.property(marks, small, small, small, small, small, (places, mean, radial, tangential, third, fourth) => {
        const readings = at(
          places,
          (x) => mean + radial * Math.cos(x) + tangential * Math.sin(x) + third * Math.cos(2 * x) + fourth * Math.sin(2 * x),
        )
        const turn = fitRoundATurn(readings)
        fc.pre(turn.ok)
        if (!turn.ok) return
        expect(turn.value.radialMm).toBeCloseTo(radial, 9)
        expect(turn.value.tangentialMm).toBeCloseTo(tangential, 9)
        expect(turn.value.ovalMm).toBeCloseTo(Math.hypot(third, fourth), 9)
        expect(turn.value.residualMm).toBeLessThan(1e-9)
      }),
    )
  })

  it('does not see how the dial was set to zero', () => {
    const readings = fc.array(fc.double({ min: -0.5, max: 0.5, noNaN: true }), { minLength: 4, maxLength: 4 })
    fc.assert(
      fc.property(readings, fc.double({ min: -40, max: 40, noNaN: true }), (mm, shift) => {
        const plain = fitted(mm.map((value, index) => ({ clockDeg: index * 90, mm: value })))
        const shifted = fitted(mm.map((value, index) => ({ clockDeg: index * 90, mm: value + shift })))
        expect(shifted.radialMm).toBeCloseTo(plain.radialMm, 12)
        expect(shifted.tangentialMm).toBeCloseTo(plain.tangentialMm, 12)
        expect(shifted.residualMm).toBeCloseTo(plain.residualMm, 12)
      }),
    )
  })

  it('turns with the marks', () => {
    const readings = fc.array(fc.double({ min: -0.5, max: 0.5, noNaN: true }), { minLength: 8, maxLength: 8 })
    fc.assert(
      fc.property(readings, fc.double({ min: -720, max: 720, noNaN: true }), (mm, turn) => {
        const plain = fitted(mm.map((value, index) => ({ clockDeg: index * 45, mm: value })))
        const turned = fitted(mm.map((value, index) => ({ clockDeg: index * 45 + turn, mm: value })))
        const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)]
        expect(turned.radialMm).toBeCloseTo(plain.radialMm * cos - plain.tangentialMm * sin, 10)
        expect(turned.tangentialMm).toBeCloseTo(plain.radialMm * sin + plain.tangentialMm * cos, 10)
        expect(turned.ovalMm).toBeCloseTo(plain.ovalMm!, 10)
        expect(turned.residualMm).toBeCloseTo(plain.residualMm, 10)
      }),
    )
  })

  it('counts the same mark twice once, but takes both readings', () => {
    const readings = [...at([0, 90, 180, 270], Math.cos), { clockDeg: 360, mm: 2 }]
    const turn = fitted(readings)
    expect(turn).not.toHaveProperty('ovalMm')
    expect(turn.radialMm).toBeGreaterThan(1)
    expect(fitRoundATurn([...at([0, 90], Math.cos), { clockDeg: 360, mm: 1 }])).toMatchObject({ ok: false, reason: 'too-few-points' })
  })

  it.each([
    ['nothing', [], 'too-few-points'],
    ['two marks', at([0, 180], Math.cos), 'too-few-points'],
    ['three marks within a hair', at([10, 10.001, 10.002], Math.cos), 'marks-too-close'],
    ['three marks a quarter of a degree apart', at([90, 90.25, 90.5], Math.cos), 'marks-too-close'],
    ['five marks where the second harmonic would guess', at([0, 90, 180, 270, 270.0001], Math.cos), 'marks-too-close'],
    ['six marks of 5 degrees', at([0, 1, 2, 3, 4, 5], Math.cos), 'marks-too-close'],
  ])('refuses %s in words', (_name, readings, reason) => {
    const turn = fitRoundATurn(readings)
    expect(turn).toMatchObject({ ok: false, reason })
    expect(!turn.ok && turn.detail).toMatch(/marks/)
  })

  it('draws the line at a condition of 1e8: three marks 5° apart carry it, half a degree apart do not', () => {
    expect(fitRoundATurn(at([0, 5, 10], Math.cos)).ok).toBe(true)
    expect(fitRoundATurn(at([0, 0.5, 1], Math.cos)).ok).toBe(false)
    // Where it is carried, what is found is right in spite of the condition.
    expect(fitted(at([0, 5, 10], (x) => 7 + 0.03 * Math.cos(x) - 0.01 * Math.sin(x))).radialMm).toBeCloseTo(0.03, 9)
  })

  it.each([51, -51, Number.NaN, Number.POSITIVE_INFINITY])('refuses a reading of %s', (mm) => {
    expect(() => fitRoundATurn([{ clockDeg: 0, mm }])).toThrow(/^fitRoundATurn needs readings from -50 to 50/)
  })

  it('refuses an angle that is none', () => {
    expect(() => fitRoundATurn([{ clockDeg: Number.NaN, mm: 0 }])).toThrow(/^fitRoundATurn needs finite clock angles$/)
  })
})
