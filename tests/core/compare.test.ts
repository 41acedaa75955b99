import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CompareInput, compare } from '#core/compare.ts'
import { hypergeometricPmf } from '#core/numeric/distributions.ts'
import { expectNear, expectRefused, expectWritable, solved, type VectorRow } from '#tests/core/near.ts'
import vectors from '#tests/vectors/compare.json' with { type: 'json' }

const side = (most: number) =>
  fc.tuple(fc.integer({ min: 1, max: most }), fc.double({ min: 0, max: 1, noNaN: true })).map(([total, share]) => ({
    total,
    failures: Math.round(total * share),
  }))

describe('compare', () => {
  it.each(vectors as unknown as VectorRow<CompareInput>[])('$name ($source, $status)', ({ input, expected, tolerance }) => {
    expectNear(solved(compare(input)), expected, tolerance)
  })

  it('is the same seen from either side, and for what is left instead of what failed', () => {
    fc.assert(
      fc.property(side(2000), side(2000), (a, b) => {
        const { p, oddsRatio } = solved(compare({ a, b }))
        const turned = solved(compare({ a: b, b: a }))
        const left = (one: typeof a) => ({ total: one.total, failures: one.total - one.failures })
        // Near 1e-300 one way round may vanish before the other.
        fc.pre(p > 1e-290)
        expect(turned.p / p).toBeCloseTo(1, 9)
        expect(solved(compare({ a: left(a), b: left(b) })).p / p).toBeCloseTo(1, 9)
        if (oddsRatio !== undefined && turned.oddsRatio !== undefined) expect(oddsRatio * turned.oddsRatio).toBeCloseTo(1, 9)
      }),
    )
  })

  it('adds up every table that is no likelier, one by one', () => {
    fc.assert(
      fc.property(side(60), side(60), (a, b) => {
        const failures = a.failures + b.failures
        const chance = (found: number) => hypergeometricPmf(found, a.total + b.total, failures, a.total)
        const all = Array.from({ length: a.total + 1 }, (_, found) => chance(found))
        const sum = all.filter((one) => one <= chance(a.failures) * (1 + 1e-7)).reduce((total, one) => total + one, 0)
        expect(solved(compare({ a, b })).p).toBeCloseTo(sum, 10)
      }),
    )
  })

  it('p lies in 0 to 1, whatever the counts', () => {
    fc.assert(
      fc.property(side(1e9), side(1e9), (a, b) => {
        const answer = solved(compare({ a, b }))
        expectWritable(answer)
        expect(answer.p).toBeGreaterThanOrEqual(0)
        expect(answer.p).toBeLessThanOrEqual(1 + 1e-12)
      }),
      { numRuns: 50 },
    )
  })

  it('two sides that are alike have p 1', () => {
    for (const [failures, total] of [
      [0, 5],
      [5, 5],
      [3, 10],
      [1, 1e9],
      [5e8, 1e9],
    ] as const)
      expect(solved(compare({ a: { failures, total }, b: { failures, total } })).p).toBeCloseTo(1, 9)
  })

  it('a p too small to be written is 0', () => {
    expect(solved(compare({ a: { failures: 0, total: 1e9 }, b: { failures: 1e9, total: 1e9 } })).p).toBe(0)
  })

  it('has an odds ratio unless a cell that divides is 0', () => {
    const odds = (af: number, at: number, bf: number, bt: number) =>
      solved(compare({ a: { failures: af, total: at }, b: { failures: bf, total: bt } })).oddsRatio
    expect(odds(3, 4, 1, 4)).toBe(9)
    expect(odds(0, 4, 1, 4)).toBe(0)
    expect(odds(4, 4, 1, 4)).toBeUndefined()
    expect(odds(3, 4, 0, 4)).toBeUndefined()
    expect(odds(1, 4, 4, 4)).toBe(0)
    expect(odds(0, 4, 0, 4)).toBeUndefined()
  })

  it('refuses an empty side in words, and counts that are none as misuse', () => {
    const b = { failures: 1, total: 2 }
    expectRefused(compare({ a: { failures: 0, total: 0 }, b }), 'too-few-points')
    expectRefused(compare({ a: b, b: { failures: 0, total: 0 } }), 'too-few-points')
    for (const a of [
      { failures: 3, total: 2 },
      { failures: 0.5, total: 2 },
      { failures: -1, total: 2 },
      { failures: 1, total: Number.NaN },
      { failures: 1, total: 1e10 },
    ])
      expect(() => compare({ a, b })).toThrow(/^compare needs /)
  })
})
