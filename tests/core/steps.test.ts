import { describe, expect, test } from 'vitest'
import { actWord, doneWord, isEnd, JOB_KINDS, nextStep, PATHS, placeOnPath, STEPS, stateWords } from '#core/steps.ts'

describe('the words', () => {
  test('a rebuild, step by step', () => {
    expect(STEPS.map((step) => stateWords('rebuild', step))).toEqual([
      'booked · to measure',
      'measured · to agree',
      'agreed · to part',
      'apart · to press together',
      'together · to true',
      'true · second check',
      'signed · ready to go home',
      'gone · out running',
    ])
  })

  test('the act word is that of the next step on the path of the kind', () => {
    expect(actWord('true-only', 'agreed')).toBe('to true')
    expect(actWord('weld-only', 'agreed')).toBe('to weld and true')
    expect(actWord('check-and-report', 'measured')).toBe('second check')
    expect(actWord('check-and-report', 'gone')).toBe('out running')
  })

  test('the two other ends', () => {
    expect(stateWords('rebuild', 'given-back')).toBe('given back')
    expect(doneWord('scrapped')).toBe('scrapped')
    expect([isEnd('scrapped'), isEnd('given-back'), isEnd('gone')]).toEqual([true, true, false])
  })
})

describe('the paths', () => {
  test('each in the order of the steps, from booked to gone', () => {
    for (const kind of JOB_KINDS) {
      expect(PATHS[kind]).toEqual(STEPS.filter((step) => PATHS[kind].includes(step)))
      expect([PATHS[kind][0], PATHS[kind].at(-1)]).toEqual(['booked', 'gone'])
    }
    expect(JOB_KINDS.map((kind) => PATHS[kind].length)).toEqual([8, 6, 4, 6])
  })

  test('the next step, and none after gone', () => {
    expect(nextStep('true-only', 'agreed')).toBe('trued')
    expect(nextStep('check-and-report', 'measured')).toBe('signed')
    expect(nextStep('rebuild', 'gone')).toBeNull()
  })

  test('refuses a step that the kind does not have', () => {
    expect(() => nextStep('true-only', 'apart')).toThrow(RangeError)
    expect(() => placeOnPath('check-and-report', 'trued')).toThrow('placeOnPath needs a step on the path of check-and-report')
  })
})
