import { describe, expect, it } from 'vitest'
import { studentTQuantile } from '#core/numeric/distributions.ts'
import vectors from '#tests/vectors/student-t.json' with { type: 'json' }

describe('studentTQuantile', () => {
  it.each(vectors)('$name ($source, $status)', ({ input, expected, tolerance }) => {
    expect(Math.abs(studentTQuantile(input.probability, input.degreesOfFreedom) - expected)).toBeLessThanOrEqual(tolerance)
  })

  it('stands the same on both sides of one half', () => {
    for (const p of [0.6, 0.9, 0.975, 0.9999]) expect(studentTQuantile(1 - p, 7)).toBeCloseTo(-studentTQuantile(p, 7), 8)
  })

  it.each([
    [0, 5],
    [1, 5],
    [Number.NaN, 5],
    [0.9, 0],
    [0.9, -1],
    [0.9, Number.POSITIVE_INFINITY],
    [0.9, Number.NaN],
  ])('refuses probability %s with %s degrees of freedom', (probability, degrees) => {
    expect(() => studentTQuantile(probability, degrees)).toThrow(/^studentTQuantile needs /)
  })
})
