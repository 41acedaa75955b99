import { describe, expect, it } from 'vitest'
import {
  betaQuantile,
  chiSquareQuantile,
  chiSquareUpper,
  fUpper,
  hypergeometricPmf,
  normalQuantile,
  studentTQuantile,
} from '#core/numeric/distributions.ts'
import others from '#tests/vectors/distributions.json' with { type: 'json' }
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

  it('becomes the normal one where the degrees of freedom have no end', () => {
    for (const degrees of [1e9, 1e13, 1e300]) expect(studentTQuantile(0.01, degrees)).toBeCloseTo(normalQuantile(0.01), 8)
  })
})

const FUNCTIONS = { normalQuantile, chiSquareQuantile, chiSquareUpper, betaQuantile, fUpper, hypergeometricPmf }

describe('the other distributions', () => {
  it.each(others)('$name ($source, $status)', ({ fn, input, expected, tolerance }) => {
    const found = (FUNCTIONS[fn as keyof typeof FUNCTIONS] as (...input: number[]) => number)(...input)
    expect(Math.abs(found - expected), `${found}`).toBeLessThanOrEqual(tolerance)
  })

  it('chi-square keeps its course where the way of working it out changes', () => {
    for (const p of [0.001, 0.025, 0.5, 0.9, 0.999]) {
      const [below, at, above] = [999.9, 1000, 1000.1].map((degrees) => chiSquareQuantile(p, degrees))
      expect(above! - at!).toBeCloseTo(at! - below!, 5)
    }
    for (const degrees of [1, 2, 5, 40]) {
      const border = chiSquareQuantile(0.99, degrees)
      expect(chiSquareUpper(border * (1 - 1e-9), degrees) / chiSquareUpper(border * (1 + 1e-9), degrees)).toBeCloseTo(1, 6)
    }
  })

  it('chances of a hypergeometric count add up to 1', () => {
    const sum = [0, 1, 2, 3, 4].reduce((total, found) => total + hypergeometricPmf(found, 30, 4, 7), 0)
    expect(sum).toBeCloseTo(1, 12)
    expect(hypergeometricPmf(5, 30, 4, 7)).toBe(0)
  })

  it.each<[keyof typeof FUNCTIONS, number[]]>([
    ['normalQuantile', [0]],
    ['normalQuantile', [Number.NaN]],
    ['chiSquareQuantile', [1, 3]],
    ['chiSquareQuantile', [0.5, 0]],
    ['chiSquareUpper', [-1, 3]],
    ['chiSquareUpper', [1, 2.5]],
    ['chiSquareUpper', [1, 1001]],
    ['chiSquareUpper', [Number.POSITIVE_INFINITY, 3]],
    ['betaQuantile', [0, 1, 1]],
    ['betaQuantile', [0.5, 0, 1]],
    ['betaQuantile', [0.5, 1, Number.POSITIVE_INFINITY]],
    ['fUpper', [-1, 1, 1]],
    ['fUpper', [1, 0, 1]],
    ['fUpper', [1, 1, Number.NaN]],
    ['hypergeometricPmf', [1, 5, 6, 2]],
    ['hypergeometricPmf', [1, 5, 2, 6]],
    ['hypergeometricPmf', [0.5, 5, 2, 2]],
  ])('%s refuses %j', (fn, input) => {
    expect(() => (FUNCTIONS[fn] as (...input: number[]) => number)(...input)).toThrow(new RegExp(`^${fn} needs `))
  })
})
