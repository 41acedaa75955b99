import { describe, expect, test } from 'vitest'
import { gaugeVerdict, gaugeWords, readingOrder } from '#core/gauge-study.ts'

const STUDY = '0198f3a0-0000-7000-8000-00000000f001'
const of = (person: string, parts = 5, rounds = 3) => readingOrder({ study: STUDY, person, parts, rounds })

describe('readingOrder', () => {
  test('reads every part once a round, rounds one after the other', () => {
    const order = of('a')
    expect(order).toHaveLength(15)
    for (const round of [1, 2, 3]) {
      const parts = order.slice((round - 1) * 5, round * 5)
      expect(parts.every((at) => at.round === round)).toBe(true)
      expect(parts.map((at) => at.part).sort()).toEqual([1, 2, 3, 4, 5])
    }
  })

  test('is the same every time it is asked, and another for another person and another study', () => {
    expect(of('a')).toEqual(of('a'))
    const people = ['a', 'b', 'c', 'd'].map((person) => JSON.stringify(of(person, 10)))
    expect(new Set(people).size).toBe(4)
    expect(readingOrder({ study: 'other', person: 'a', parts: 10, rounds: 3 })).not.toEqual(of('a', 10))
  })

  test('never reads a part twice running, and shuffles each round anew', () => {
    let alike = 0
    for (let person = 0; person < 200; person++) {
      const order = of(`person ${person}`, 3, 4)
      for (const [index, at] of order.entries()) expect(at.part).not.toBe(order[index + 1]?.part)
      const [first, second] = [order.slice(0, 3), order.slice(3, 6)].map((round) => round.map((at) => at.part).join())
      if (first === second) alike++
    }
    expect(alike).toBeLessThan(100)
  })

  test('begins with every part about equally often', () => {
    const firsts = Array.from({ length: 1000 }, (_, person) => of(`person ${person}`)[0]!.part)
    // 200 of 1000 each; the standard deviation of such a count is 12.6.
    for (const part of [1, 2, 3, 4, 5]) expect(Math.abs(firsts.filter((one) => one === part).length - 200)).toBeLessThan(60)
  })

  test.each([
    [1, 3],
    [31, 3],
    [5, 1],
    [5, 6],
    [Number.NaN, 3],
    [2.5, 3],
  ])('refuses %s parts in %s rounds', (parts, rounds) => {
    expect(() => of('a', parts, rounds)).toThrow(RangeError)
  })
})

describe('gaugeVerdict', () => {
  // Common practice: under 10 good, 10 to 30 usable, above not.
  test.each([
    [9.99, 'good'],
    [10, 'usable'],
    [30, 'usable'],
    [30.01, 'not-usable'],
  ] as const)('%s per cent of the tolerance: %s', (percentOfTolerance, verdict) => {
    expect(gaugeVerdict({ percentOfTotal: 50, percentOfTolerance })).toBe(verdict)
    expect(gaugeVerdict({ percentOfTotal: percentOfTolerance })).toBe(verdict)
  })
})

describe('gaugeWords', () => {
  const parts = { repeatability: 1, reproducibility: 2, interaction: 0, gauge: 2.2, part: 9, percentOfTotal: 24 }

  test('says the share, the steps and what adds most', () => {
    expect(gaugeWords({ ...parts, percentOfTolerance: 34, distinctSteps: 4 })).toEqual([
      'The spread of the instrument and its people takes 34.0 % of the tolerance. Not usable for this: above 30 %.',
      'It tells 4 steps apart among these parts. 5 or more are wanted: too few.',
      'Most of it comes from person to person: agree on one way to hold and read.',
    ])
    expect(gaugeWords({ ...parts, repeatability: 3, distinctSteps: 5 }).slice(1)).toEqual([
      'It tells 5 steps apart among these parts. 5 or more are wanted: enough.',
      'Most of it comes from the same person reading again: look at the instrument and how the part is held.',
    ])
  })

  test('says so where there is no scatter at all', () => {
    const still = { ...parts, repeatability: 0, reproducibility: 0, gauge: 0, percentOfTotal: 0 }
    expect(gaugeWords(still)).toEqual([
      'The instrument and its people make 0.0 % of the whole spread. Good: under 10 %.',
      'It has no scatter at all: the parts are told apart without end.',
      'Nothing comes from the hand or the instrument.',
    ])
  })
})
