import { describe, expect, test } from 'vitest'
import { phaseError } from '#core/phase.ts'

// An angle less an angle, the short way round; the limit of half a degree is common practice, no source.

describe('how far a throw stands off', () => {
  test.each([
    [180, 180, 0, 'within'],
    [180.5, 180, 0.5, 'within'],
    [179.5, 180, -0.5, 'within'],
    [180.51, 180, 0.51, 'over'],
    [179.49, 180, -0.51, 'over'],
    [120.4, 120, 0.4, 'within'],
    [0.3, 0, 0.3, 'within'],
    [359.7, 0, -0.3, 'within'],
    [0.2, 359.9, 0.3, 'within'],
    [720, 0, 0, 'within'],
    [-90, 270, 0, 'within'],
    [0, 180, 180, 'over'],
  ] as const)('%d° of %d° is %d° off, %s', (measuredDeg, nominalDeg, errorDeg, verdict) => {
    const answer = phaseError({ measuredDeg, nominalDeg, limitDeg: 0.5 })
    expect(answer.errorDeg).toBeCloseTo(errorDeg, 9)
    expect(answer.verdict).toBe(verdict)
  })

  test('a tenth of a degree in binary does not push a figure over its own limit', () => {
    expect(phaseError({ measuredDeg: 180.3, nominalDeg: 180, limitDeg: 0.3 }).verdict).toBe('within')
  })

  test.each([
    { measuredDeg: Number.NaN, nominalDeg: 0, limitDeg: 0.5 },
    { measuredDeg: 721, nominalDeg: 0, limitDeg: 0.5 },
    { measuredDeg: 0, nominalDeg: -361, limitDeg: 0.5 },
    { measuredDeg: 0, nominalDeg: 0, limitDeg: 0 },
    { measuredDeg: 0, nominalDeg: 0, limitDeg: 91 },
  ])('refuses %o', (read) => {
    expect(() => phaseError(read)).toThrow(RangeError)
  })
})
