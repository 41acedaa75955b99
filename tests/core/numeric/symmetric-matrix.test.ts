import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { choleskyFactor, conditionNumber, solveFactored, symmetricEigenvalues } from '#core/numeric/symmetric-matrix.ts'

/** A · Aᵀ + 1, which is positive definite whatever A is. */
const positiveDefinite = fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 25, maxLength: 25 }).map((values) => {
  const at = (row: number, column: number) => values[row * 5 + column]!
  return Array.from({ length: 25 }, (_, index) => {
    const [row, column] = [Math.floor(index / 5), index % 5]
    const product = [0, 1, 2, 3, 4].reduce((total, k) => total + at(row, k) * at(column, k), 0)
    return product + (row === column ? 1 : 0)
  })
})

describe('symmetric matrices', () => {
  it('solve what they were multiplied from', () => {
    fc.assert(
      fc.property(positiveDefinite, fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 5, maxLength: 5 }), (matrix, x) => {
        const right = x.map((_, row) => x.reduce((total, value, column) => total + matrix[row * 5 + column]! * value, 0))
        const found = solveFactored(choleskyFactor(matrix, 5), right, 5)
        for (let i = 0; i < 5; i++) expect(Math.abs(found[i]! - x[i]!)).toBeLessThan(1e-8 * Math.max(1, conditionNumber(matrix, 5) / 1e4))
      }),
    )
  })

  it('have eigenvalues with the sum and the squares of the matrix', () => {
    fc.assert(
      fc.property(positiveDefinite, (matrix) => {
        const values = symmetricEigenvalues(matrix, 5)
        const trace = [0, 6, 12, 18, 24].reduce((total, index) => total + matrix[index]!, 0)
        const squares = matrix.reduce((total, value) => total + value * value, 0)
        expect(values.reduce((total, value) => total + value, 0) / trace).toBeCloseTo(1, 12)
        expect(values.reduce((total, value) => total + value * value, 0) / squares).toBeCloseTo(1, 12)
        expect(values[0]!).toBeGreaterThan(0.99)
      }),
    )
  })

  it('know the Hilbert matrix of five rows: condition 476607.25 (published widely; from memory, recomputed)', () => {
    const hilbert = Array.from({ length: 25 }, (_, index) => 1 / (Math.floor(index / 5) + (index % 5) + 1))
    expect(conditionNumber(hilbert, 5)).toBeCloseTo(476607.2502, 2)
  })

  it('say Infinity where a direction carries nothing, and refuse to be factored there', () => {
    expect(conditionNumber([1, 0, 0, 0], 2)).toBe(Number.POSITIVE_INFINITY)
    expect(() => choleskyFactor([1, 2, 2, 1], 2)).toThrow(/^choleskyFactor needs a positive definite matrix$/)
    expect(() => symmetricEigenvalues([1, 2], 2)).toThrow(RangeError)
  })
})
