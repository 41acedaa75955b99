import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type TruingInput, truing } from '#core/truing.ts'
import { anySetUp } from './truing-cases.ts'
import { bothEnds, round, SET_UP, solved } from './truing-solved.ts'

describe('truing refuses', () => {
  const good: TruingInput = { strokeMm: 60, ...SET_UP, left: round([0, 0.05, 0, -0.05]), right: round([0, -0.05, 0, 0.05]) }

  it.each([
    ['left', round([0, 1]), 'too-few-points', /^Left end: Read at three/],
    [
      'right',
      { readings: [0, 0.01, 0.02].map((clockDeg) => ({ clockDeg, mm: 0 })) },
      'marks-too-close',
      /^Right end: The marks lie too close/,
    ],
  ] as const)('in words what the %s end cannot tell', (end, read, reason, detail) => {
    const answer = truing({ ...good, [end]: read })
    expect(answer).toMatchObject({ ok: false, reason })
    expect(!answer.ok && answer.detail).toMatch(detail)
  })

  it.each<[string, Partial<TruingInput>]>([
    ['a stroke of 9', { strokeMm: 9 }],
    ['a support of 0', { supportLeftMm: 0 }],
    ['no right support', { supportRightMm: undefined }],
    ['a dial at 0', { dialLeftMm: 0 }],
    ['a dial at its support', { dialRightMm: -0.5 }],
    ['no dial', { dialRightMm: undefined }],
    ['a rim radius of 4', { rimRadiusMm: 4 }],
    ['a doubt below nothing', { readingDoubtMm: -1 }],
    ['a limit that is no number', { limitTirMm: Number.NaN }],
    ['one limit over 20', { limitTirMm: { leftMm: 0.02, rightMm: 21 } }],
    ['no left end', { left: undefined }],
    ['an end with nothing', { left: {} }],
    ['an end with both', { left: { ...round([0, 1, 2, 3]), tirMm: 0.1, highAtDeg: 0 } }],
    ['a full swing without its high spot', { left: { tirMm: 0.1 } }],
    ['a high spot without its full swing', { left: { highAtDeg: 10 } }],
    ['a full swing of 21', { left: { tirMm: 21, highAtDeg: 0 } }],
    ['a high spot that is no number', { left: { tirMm: 0.1, highAtDeg: Number.NaN } }],
  ])('misuse: %s', (_name, part) => {
    expect(() => truing({ ...good, ...part })).toThrow(/^truing needs /)
  })

  it('and takes what lies at the very edge', () => {
    const edge = solved({
      ...good,
      strokeMm: 300,
      supportLeftMm: 1000,
      dialLeftMm: -1,
      limitTirMm: 0,
      readingDoubtMm: 20,
      rimRadiusMm: 500,
    })
    expect(edge.verdict).toBe('cocked')
    expect(edge.moves.map((move) => move.action)).toEqual(['part'])
  })

  it('answers nothing but finite numbers', () => {
    fc.assert(
      fc.property(bothEnds, anySetUp, fc.constantFrom(undefined, 0, 0.02, 20), (ends, setUp, limitTirMm) => {
        const text = JSON.stringify(solved({ strokeMm: 60, ...setUp, left: round(ends.left), right: round(ends.right), limitTirMm }))
        expect(text).not.toContain('null')
      }),
    )
    const still = solved({ strokeMm: 60, ...SET_UP, left: round([1, 1, 1, 1]), right: { tirMm: 0, highAtDeg: 123 } })
    expect(still).toMatchObject({ left: { tirMm: 0, highAtDeg: 0 }, right: { tirMm: 0, highAtDeg: 0 }, verdict: 'swing' })
    expect(still.moves.map((move) => move.action)).toEqual(['leave'])
  })
})
