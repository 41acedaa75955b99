import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DOUBT_SHAPES, type DoubtInput, type DoubtPart, doubt } from '#core/doubt.ts'
import { expectNear, expectRefused, expectWritable, solved, type VectorRow } from '#tests/core/near.ts'
import vectors from '#tests/vectors/doubt.json' with { type: 'json' }

const normal = (value: number, more: Partial<DoubtPart> = {}): DoubtPart => ({ name: 'a', shape: 'normal', value, ...more })

describe('doubt', () => {
  it.each(vectors as unknown as VectorRow<DoubtInput>[])('$name ($source, $status)', ({ input, expected, tolerance }) => {
    expectNear(solved(doubt(input)), expected, tolerance)
  })

  const part: fc.Arbitrary<DoubtPart> = fc.record({
    name: fc.constant('a'),
    shape: fc.constantFrom(...DOUBT_SHAPES),
    value: fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
    degreesOfFreedom: fc.option(fc.double({ min: 1, max: 1e9, noNaN: true }), { nil: undefined }),
    sensitivity: fc.option(fc.double({ min: -1000, max: -0.001, noNaN: true }), { nil: undefined }),
  })

  it('shares add up to 1, the whole is their square sum, and scales with the unit', () => {
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 9 }), fc.double({ min: 0.001, max: 1000, noNaN: true }), (parts, unit) => {
        const answer = solved(doubt({ parts }))
        expectWritable(answer)
        expect(answer.parts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12)
        expect(Math.hypot(...answer.parts.map(({ standard }) => standard)) / answer.standard).toBeCloseTo(1, 12)
        const other = solved(doubt({ parts: parts.map((one) => ({ ...one, value: one.value * unit })) }))
        expect(other.standard / answer.standard / unit).toBeCloseTo(1, 9)
        expect(other.k).toBeCloseTo(answer.k, 6)
      }),
    )
  })

  it('degrees of freedom lie between the least of the parts and, where all have them, their sum', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(part, fc.double({ min: 1, max: 1e6, noNaN: true })), { minLength: 1, maxLength: 6 }), (pairs) => {
        const parts = pairs.map(([one, degreesOfFreedom]) => ({ ...one, degreesOfFreedom }))
        const found = solved(doubt({ parts })).degreesOfFreedom!
        const degrees = parts.map((one) => one.degreesOfFreedom)
        expect(found).toBeGreaterThanOrEqual(Math.min(...degrees) * (1 - 1e-9))
        expect(found).toBeLessThanOrEqual(degrees.reduce((sum, one) => sum + one, 0) * (1 + 1e-9))
      }),
    )
  })

  it('whole degrees of freedom are not taken for one less by a last bit, and broken ones are rounded down for k alone', () => {
    for (const degrees of [1, 3, 7, 9, 49, 1e9]) {
      const parts = [normal(0.1 + 0.2, { degreesOfFreedom: degrees, sensitivity: 1 / 3 })]
      expect(solved(doubt({ parts })).degreesOfFreedom).toBeCloseTo(degrees, 4)
      if (degrees < 1e6) expect(solved(doubt({ parts })).k).toBe(solved(doubt({ parts: [normal(1, { degreesOfFreedom: degrees })] })).k)
    }
    const broken = solved(doubt({ parts: [normal(1, { degreesOfFreedom: 9.99 })] }))
    expect(broken.degreesOfFreedom).toBeCloseTo(9.99, 12)
    expect(broken.k).toBe(solved(doubt({ parts: [normal(1, { degreesOfFreedom: 9 })] })).k)
  })

  it('a k that is given stands, whatever the coverage', () => {
    expect(solved(doubt({ parts: [normal(2)], k: 3, coverage: 0.5 }))).toMatchObject({ k: 3, expanded: 6, degreesOfFreedom: null })
  })

  it('a part with next to nothing in it does not decide the degrees of freedom', () => {
    const answer = solved(doubt({ parts: [normal(1e9), normal(1e-300, { degreesOfFreedom: 1 })] }))
    expect(answer.degreesOfFreedom).toBeNull()
    expectWritable({ ...answer, degreesOfFreedom: 0 })
  })
})

describe('doubt against a limit', () => {
  // expanded 0.01, in mm
  const judged = (measured: number, rule?: 'simple' | 'full-guard') =>
    solved(doubt({ parts: [normal(0.005)], k: 2, measured, limit: 0.03, rule })).verdict

  it.each<[number, string, string]>([
    [0.01, 'within', 'within'],
    [0.02, 'within', 'within'],
    [0.0200001, 'in-the-doubt-band', 'within'],
    [0.03, 'in-the-doubt-band', 'within'],
    [0.0300001, 'over', 'over'],
  ])('%s: full guard %s, simple %s (ILAC-G8:09/2019, from memory)', (measured, guarded, simple) => {
    expect(judged(measured)).toBe(guarded)
    expect(judged(measured, 'full-guard')).toBe(guarded)
    expect(judged(measured, 'simple')).toBe(simple)
  })

  it('is given with both, and not with one', () => {
    expect(solved(doubt({ parts: [normal(1)] }))).not.toHaveProperty('verdict')
    expect(solved(doubt({ parts: [normal(1)], limit: 3 }))).not.toHaveProperty('verdict')
    expect(solved(doubt({ parts: [normal(1)], measured: 3 }))).not.toHaveProperty('verdict')
  })

  it('0.1 and 0.2 do not exceed 0.3', () => {
    expect(solved(doubt({ parts: [normal(0.1)], k: 2, measured: 0.1, limit: 0.3 })).verdict).toBe('within')
  })
})

describe('doubt refuses', () => {
  it('no parts, and parts of nothing, in words', () => {
    expectRefused(doubt({ parts: [] }), 'too-few-points')
    expectRefused(doubt({ parts: [normal(0), normal(5, { sensitivity: 0 })] }), 'no-spread')
  })

  it.each<[string, Partial<DoubtInput>]>([
    ['a value below 0', { parts: [normal(-1)] }],
    ['a value that is none', { parts: [normal(Number.NaN)] }],
    ['degrees of freedom under 1', { parts: [normal(1, { degreesOfFreedom: 0.9 })] }],
    ['an endless sensitivity', { parts: [normal(1, { sensitivity: Number.POSITIVE_INFINITY })] }],
    ['a coverage of 1', { coverage: 1 }],
    ['k of 0', { k: 0 }],
    ['a limit beyond all', { limit: 1e10 }],
    ['a reading that is none', { measured: Number.NaN }],
    ['more than ten thousand parts', { parts: Array.from({ length: 10_001 }, () => normal(1)) }],
  ])('%s as misuse', (_name, input) => {
    expect(() => doubt({ parts: [normal(1)], ...input })).toThrow(/^doubt needs /)
  })

  it('nothing of ten thousand parts', () => {
    const parts = Array.from({ length: 10_000 }, () => normal(1))
    expect(solved(doubt({ parts })).standard).toBeCloseTo(100, 9)
  })
})
