import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type EndSet, secondReadingAgrees } from '#core/second-reading.ts'

const ends = (left: number | null, right: number | null): EndSet => ({ left, right })
const GIVE_OR_TAKE = { left: 0.008, right: 0.008 }
const LIMIT = ends(0.02, 0.02)

function judge(first: EndSet, second: EndSet, third: EndSet | null = null, houseLimit: EndSet = LIMIT) {
  return secondReadingAgrees({ first, second, third, giveOrTake: GIVE_OR_TAKE, houseLimit })
}

// √2 × 0.008 = 0.011314: the doubt of a difference of two readings, JCGM 100:2008 (GUM) 5.1.
describe('the second reading', () => {
  test('agrees inside √2 × the give-or-take, at each end by its own', () => {
    expect(judge(ends(0.012, 0.014), ends(0.011, 0.015))).toEqual({ agrees: true, between: ['first', 'second'] })
    expect(judge(ends(0.0187, 0.014), ends(0.0074, 0.015))).toEqual({ agrees: true, between: ['first', 'second'] })
    expect(judge(ends(0.0188, 0.014), ends(0.0074, 0.015))).toEqual({
      agrees: false,
      overHouse: [],
      differing: ['left'],
      thirdSet: 'wanted',
    })
    const finer = secondReadingAgrees({
      first: ends(0.001, 0.001),
      second: ends(0.009, 0.009),
      third: null,
      giveOrTake: { left: 0.008, right: 0.005 },
      houseLimit: LIMIT,
    })
    expect(finer).toMatchObject({ agrees: false, differing: ['right'] })
  })

  test('has to be within the limit itself; exactly at it is', () => {
    expect(judge(ends(0.019, 0.014), ends(0.02, 0.015)).agrees).toBe(true)
    expect(judge(ends(0.019, 0.014), ends(0.021, 0.015))).toEqual({
      agrees: false,
      overHouse: ['left'],
      differing: [],
      thirdSet: 'wanted',
    })
  })

  test('without a limit, as for a report, only the difference counts', () => {
    expect(judge(ends(0.19, 0.21), ends(0.195, 0.205), null, ends(null, null)).agrees).toBe(true)
    expect(judge(ends(0.19, 0.21), ends(0.195, 0.25), null, ends(null, null)).agrees).toBe(false)
  })

  test('an end that one of them left out is not compared', () => {
    expect(judge(ends(null, 0.014), ends(0.05, 0.015)).agrees).toBe(true)
    expect(() => judge(ends(null, 0.014), ends(0.011, null))).toThrow('secondReadingAgrees needs one end that both sets have read')
  })

  test('is the same whichever of two sets inside the limit came first', () => {
    const swing = fc.integer({ min: 0, max: 2000 }).map((value) => value / 1e5)
    fc.assert(
      fc.property(swing, swing, swing, swing, (a, b, c, d) => {
        expect(judge(ends(a, b), ends(c, d)).agrees).toBe(judge(ends(c, d), ends(a, b)).agrees)
      }),
    )
  })
})

describe('the third set', () => {
  const first = ends(0.002, 0.014)
  const second = ends(0.018, 0.015)

  test('settles it with whichever of the two it agrees with at both ends', () => {
    expect(judge(first, second, ends(0.004, 0.014))).toEqual({ agrees: true, between: ['first', 'third'] })
    expect(judge(first, second, ends(0.017, 0.014))).toEqual({ agrees: true, between: ['second', 'third'] })
    // In the middle it agrees with both; the two later sets are named.
    expect(judge(first, second, ends(0.01, 0.014))).toEqual({ agrees: true, between: ['second', 'third'] })
  })

  test('settles nothing when it agrees with neither, leaves an end out, or is over the limit', () => {
    expect(judge(ends(0.001, 0.014), ends(0.045, 0.015), ends(0.0185, 0.014))).toMatchObject({ agrees: false, thirdSet: 'settles-nothing' })
    expect(judge(first, second, ends(null, 0.014))).toMatchObject({ agrees: false, thirdSet: 'settles-nothing' })
    expect(judge(first, second, ends(0.017, 0.021))).toMatchObject({ agrees: false, thirdSet: 'settles-nothing' })
  })

  test('does not join a second set that is over the limit', () => {
    expect(judge(ends(0.002, 0.014), ends(0.024, 0.015), ends(0.019, 0.014))).toMatchObject({ agrees: false, thirdSet: 'settles-nothing' })
    expect(judge(ends(0.012, 0.014), ends(0.024, 0.015), ends(0.013, 0.014))).toEqual({ agrees: true, between: ['first', 'third'] })
  })

  test('is not looked at when the first two agree', () => {
    expect(judge(ends(0.012, 0.014), ends(0.011, 0.015), ends(0.2, 0.2))).toEqual({ agrees: true, between: ['first', 'second'] })
  })

  test('refuses what is no swing', () => {
    expect(() => judge(ends(Number.NaN, 0.014), second)).toThrow('secondReadingAgrees needs figures of 0 mm or more')
    expect(() => judge(first, ends(-0.001, 0.014))).toThrow(RangeError)
  })
})
