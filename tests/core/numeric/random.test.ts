import { describe, expect, it } from 'vitest'
import { mean, standardDeviation } from '#core/numeric/mean.ts'
import { randomWords, seededRandom } from '#core/numeric/random.ts'

describe('chance from a seed', () => {
  it('gives the words of the reference implementation of xoshiro128** 1.1 for the state 1, 2, 3, 4 (read in the tests of rand_xoshiro)', () => {
    const next = randomWords([1, 2, 3, 4])
    const words = Array.from({ length: 10 }, next)
    expect(words).toEqual([11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804])
  })

  it('gives the same run for the same seed and another for its neighbour', () => {
    const run = (seed: number) => Array.from({ length: 5 }, seededRandom(seed))
    expect(run(318)).toEqual(run(318))
    expect(run(318)).not.toEqual(run(319))
    expect(run(0)).not.toEqual(run(1))
  })

  it('is even over [0, 1), from the seed 0 too', () => {
    for (const seed of [0, 1, 4294967295]) {
      const values = Array.from({ length: 20_000 }, seededRandom(seed))
      expect(values.every((value) => value >= 0 && value < 1)).toBe(true)
      // Four standard errors of a mean of 20,000, and the spread of an even distribution, 1/√12.
      expect(Math.abs(mean(values) - 0.5)).toBeLessThan((4 * 0.2887) / Math.sqrt(20_000))
      expect(standardDeviation(values)).toBeCloseTo(1 / Math.sqrt(12), 2)
    }
  })

  it('refuses a state of nothing and seeds that are no whole number', () => {
    expect(() => randomWords([0, 0, 0, 0])).toThrow(RangeError)
    for (const seed of [-1, 0.5, Number.NaN, 2 ** 32]) expect(() => seededRandom(seed)).toThrow(/^seededRandom needs a whole seed/)
  })
})
