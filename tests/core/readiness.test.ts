import { describe, expect, test } from 'vitest'
import { differByMoreThanDoubt, type JudgedSet, levelOf, movesACrank, trueAtFirstCheck } from '#core/readiness.ts'

const set = (leftMm: number | null, rightMm: number | null): JudgedSet => ({
  ...(leftMm === null ? {} : { left: { tirMm: leftMm } }),
  ...(rightMm === null ? {} : { right: { tirMm: rightMm } }),
  limits: { leftMm: 0.02, rightMm: 0.02 },
  giveOrTake: { leftMm: 0.008, rightMm: 0.008 },
})

describe('true at first check', () => {
  test('both ends within the house limit, the limit itself included', () => {
    expect(trueAtFirstCheck(set(0.018, 0.02))).toBe(true)
    expect(trueAtFirstCheck(set(0.1 + 0.2 - 0.28, 0.01))).toBe(true)
    expect(trueAtFirstCheck(set(0.018, 0.021))).toBe(false)
    expect(trueAtFirstCheck(set(null, 0.01))).toBeNull()
    expect(trueAtFirstCheck({ ...set(0.01, 0.01), limits: { leftMm: 0.02 } })).toBeNull()
  })
})

describe('the second reader differs by more than the doubt', () => {
  // JCGM 100:2008, 5.1.2: two independent readings of equal doubt u differ with doubt √2·u; 0.008 × √2 = 0.0113.
  test.each([
    [0.01, 0.021, false],
    [0.01, 0.0214, true],
    [0.021, 0.01, false],
  ])('%d against %d: %s', (first, second, differs) => {
    expect(differByMoreThanDoubt(set(first, 0.01), set(second, 0.01))).toBe(differs)
    expect(differByMoreThanDoubt(set(0.01, first), set(0.01, second))).toBe(differs)
  })
  test('is not said where an end is missing', () => {
    expect(differByMoreThanDoubt(set(null, 0.01), set(0.01, 0.01))).toBeNull()
  })
})

describe('moves a crank and level of the hours', () => {
  test('geometric mean; no move counts as one; nothing of nothing', () => {
    expect(movesACrank([2, 8])).toBeCloseTo(4, 12)
    expect(movesACrank([0, 4])).toBeCloseTo(2, 12)
    expect(movesACrank([])).toBeUndefined()
  })
  test('level with its interval by Student’s t on the logarithms', () => {
    // Worked by hand: logs 0 and ln 4, mean ln 2, sd ln(4)/√2, t(.975, 1) = 12.706 (NIST/SEMATECH e-Handbook 1.3.6.7.2, quoted).
    const level = levelOf([1, 4], 12.706)
    const reach = 12.706 * (Math.log(4) / Math.SQRT2 / Math.SQRT2)
    expect(level?.hours).toBeCloseTo(2, 12)
    expect(level?.low).toBeCloseTo(2 * Math.exp(-reach), 12)
    expect(level?.high).toBeCloseTo(2 * Math.exp(reach), 6)
    expect(levelOf([3], 12.706)).toBeUndefined()
  })
})
