import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fitLine, fitLineThroughZero } from '#core/numeric/line.ts'
import vectors from '#tests/vectors/lines.json' with { type: 'json' }

interface Points {
  x: number[]
  y: number[]
}

function check(found: object, expected: object, tolerance: number): void {
  for (const [name, wanted] of Object.entries(expected)) {
    const value = (found as Record<string, number>)[name]!
    expect(Math.abs(value / wanted - 1), name).toBeLessThan(tolerance)
  }
}

describe('fitLine', () => {
  it.each(vectors.filter((row) => row.kind === 'line'))('$name ($source, $status)', ({ input, expected, tolerance }) => {
    const { x, y } = input as Points
    check(fitLine(x, y), expected, tolerance)
  })

  it('moves with the points: x turned into other units, y shifted', () => {
    const point = fc.tuple(fc.integer({ min: -1000, max: 1000 }), fc.integer({ min: -1000, max: 1000 }))
    fc.assert(
      fc.property(fc.array(point, { minLength: 3, maxLength: 20 }), fc.integer({ min: -500, max: 500 }), (points, shift) => {
        const x = points.map(([one]) => one)
        fc.pre(x.some((value) => value !== x[0]))
        const y = points.map(([, other]) => other)
        const plain = fitLine(x, y)
        const moved = fitLine(
          x.map((value) => value * 8),
          y.map((value) => value + shift),
        )
        expect(moved.slope * 8).toBeCloseTo(plain.slope, 9)
        expect(moved.intercept - shift).toBeCloseTo(plain.intercept, 6)
        expect(moved.residualSd).toBeCloseTo(plain.residualSd, 6)
      }),
    )
  })

  it('has no share explained where y are all the same, and an exact line where they lie on one', () => {
    expect(fitLine([1, 2, 4], [5, 5, 5])).not.toHaveProperty('rSquared')
    const exact = fitLine([1, 2, 4], [3, 5, 9])
    expect([exact.slope, exact.intercept, exact.residualSd, exact.rSquared]).toEqual([2, 1, 0, 1])
  })

  it('refuses what carries no line', () => {
    expect(() => fitLine([1, 2], [1, 2])).toThrow(/^fitLine needs at least three points$/)
    expect(() => fitLine([1, 2, 3], [1, 2])).toThrow(/^fitLine needs as many y as x$/)
    expect(() => fitLine([2, 2, 2], [1, 2, 3])).toThrow(/^fitLine needs at least two different x$/)
    expect(() => fitLine([1, 2, Number.NaN], [1, 2, 3])).toThrow(RangeError)
  })
})

describe('fitLineThroughZero', () => {
  const rows = vectors.filter((row) => row.kind === 'line-through-zero')

  it.each(rows)('$name ($source, $status)', ({ input, expected, tolerance }) => {
    const { x, y } = input as Points
    check(fitLineThroughZero(x, y), expected, tolerance)
  })

  it('has both published sets', () => {
    expect(rows.map((row) => row.name)).toEqual(['NoInt1', 'NoInt2'])
  })

  it('refuses what carries no line', () => {
    expect(() => fitLineThroughZero([0, 0], [1, 2])).toThrow(/^fitLineThroughZero needs an x other than 0$/)
    expect(() => fitLineThroughZero([1], [1])).toThrow(RangeError)
    expect(() => fitLineThroughZero([1, 2], [1])).toThrow(RangeError)
  })
})
