import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type OddOneOutInput, oddOneOut } from '#core/odd-one-out.ts'
import { expectNear, expectRefused, expectWritable, solved, type VectorRow } from '#tests/core/near.ts'
import vectors from '#tests/vectors/odd-one-out.json' with { type: 'json' }

describe('oddOneOut', () => {
  it.each(vectors as unknown as VectorRow<OddOneOutInput>[])('$name ($source, $status)', ({ input, expected, tolerance }) => {
    expectNear(solved(oddOneOut(input)), expected, tolerance)
  })

  const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 3, maxLength: 30 })

  it('scores do not change with shift and scale, and turn with the sign', () => {
    fc.assert(
      fc.property(values, fc.integer({ min: -500, max: 500 }), fc.integer({ min: 1, max: 50 }), (list, shift, scale) => {
        const answer = oddOneOut({ values: list })
        fc.pre(answer.ok)
        const { scores, flagged } = solved(answer)
        const moved = solved(oddOneOut({ values: list.map((value) => value * scale + shift) }))
        const turned = solved(oddOneOut({ values: list.map((value) => -value) }))
        expect(moved.flagged).toEqual(flagged)
        scores.forEach((score, index) => {
          expect(moved.scores[index]).toBeCloseTo(score, 9)
          expect(turned.scores[index]).toBeCloseTo(-score, 9)
        })
      }),
    )
  })

  it('half of the values or more lie within 0.6745 of nothing, however far the odd ones', () => {
    fc.assert(
      fc.property(values, (list) => {
        const answer = oddOneOut({ values: [...list, 1e9] })
        fc.pre(answer.ok)
        const { scores } = solved(answer)
        expectWritable(scores)
        expect(scores.filter((score) => Math.abs(score) <= 0.6745 + 1e-12).length * 2).toBeGreaterThanOrEqual(scores.length)
      }),
    )
  })

  it('a score just at the threshold is not flagged', () => {
    // Median 2, MAD 1: 8 stands 6 away, which scores 4.047.
    const list = [1, 2, 3, 8, 1]
    const score = solved(oddOneOut({ values: list })).scores[3]!
    expect(score).toBeCloseTo(4.047, 12)
    expect(solved(oddOneOut({ values: list })).flagged).toEqual([3])
    expect(solved(oddOneOut({ values: list, threshold: score })).flagged).toEqual([])
  })

  it('a candidate is judged by the others, and does not sway them', () => {
    const plain = solved(oddOneOut({ values: [1, 2, 3] }))
    const judged = solved(oddOneOut({ values: [1, 2, 3], candidate: 1e9 }))
    expect(judged).toEqual({ ...plain, candidateScore: 0.6745 * (1e9 - 2) })
    expect(plain).not.toHaveProperty('candidateScore')
  })

  it('refuses in words', () => {
    expectRefused(oddOneOut({ values: [] }), 'too-few-points')
    expectRefused(oddOneOut({ values: [4] }), 'no-spread')
    expectRefused(oddOneOut({ values: [4, 4, 4, 9] }), 'no-spread')
    expectRefused(oddOneOut({ values: [0, 5e-324, 1e-323, 1e9] }), 'out-of-range')
    expectRefused(oddOneOut({ values: [0, 5e-324, 1e-323], candidate: 1 }), 'out-of-range')
  })

  it.each<[string, OddOneOutInput]>([
    ['what is no value', { values: [1, Number.NaN] }],
    ['a value beyond all', { values: [1, -2e9] }],
    ['a candidate that is none', { values: [1, 2], candidate: Number.POSITIVE_INFINITY }],
    ['a threshold of 0', { values: [1, 2], threshold: 0 }],
    ['a list too long', { values: new Array(10_001).fill(1) }],
  ])('refuses %s as misuse', (_name, input) => {
    expect(() => oddOneOut(input)).toThrow(/^oddOneOut needs /)
  })
})
