import { describe, expect, it } from 'vitest'
import { mean, standardDeviation } from '#core/numeric/mean.ts'
import vectors from '#tests/vectors/lines.json' with { type: 'json' }

interface Spread {
  values?: number[]
  first?: number
  thenPair?: number[]
  pairs?: number
}

function valuesOf(input: Spread): number[] {
  if (input.values !== undefined) return input.values
  const pairs = Array.from({ length: input.pairs! }, () => input.thenPair!).flat()
  return [input.first!, ...pairs]
}

describe('mean and standard deviation', () => {
  const rows = vectors.filter((row) => row.kind === 'spread')

  it.each(rows)('$name ($source, $status)', ({ input, expected, tolerance }) => {
    const values = valuesOf(input as Spread)
    const wanted = expected as { mean: number; standardDeviation: number }
    expect(Math.abs(mean(values) / wanted.mean - 1)).toBeLessThan(1e-12)
    expect(Math.abs(standardDeviation(values) / wanted.standardDeviation - 1)).toBeLessThan(tolerance)
  })

  it('has the published sets to check', () => {
    expect(rows.map((row) => row.name)).toEqual(['Michelso', 'Lottery', 'NumAcc1', 'NumAcc2', 'NumAcc3', 'NumAcc4'])
  })

  it('answers 0 for values that are all the same, and refuses too few', () => {
    expect(standardDeviation([0.1, 0.1, 0.1])).toBe(0)
    expect(() => mean([])).toThrow(/^mean needs at least one value$/)
    expect(() => standardDeviation([1])).toThrow(/^standardDeviation needs at least two values$/)
  })
})
