import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fitIn, fitOut } from '#contract/sum-fit.ts'
import { learningIn, learningOut } from '#contract/sum-learning.ts'
import { type TruingIn, truingIn, truingOut } from '#contract/sum-truing.ts'
import { widthIn, widthOut } from '#contract/sum-width.ts'
import type { Answer } from '#core/answer.ts'
import { fit as pressFit } from '#core/fit.ts'
import { learning } from '#core/learning.ts'
import { truing } from '#core/truing.ts'
import { width } from '#core/width.ts'
import { faultsIn, testTheWire, value, withMember } from '#tests/contract/wire-shapes.ts'

const marks = [0, 90, 180, 270]
const round = (mm: number[]) => ({ readings: mm.map((value, index) => ({ clockDeg: marks[index]!, mm: value })) })
const TRUING: TruingIn = {
  strokeMm: 62.4,
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  left: round([0, 0.07, 0.02, -0.05]),
  right: { tirMm: 0.14, highAtDeg: 270 },
  held: 'both',
  limitTirMm: { leftMm: 0.02, rightMm: 0.02 },
  rimRadiusMm: 50,
  readingDoubtMm: 0.008,
}
const WIDTH = {
  webLeftMm: 17.5,
  webRightMm: 17.5,
  rodWidthMm: 18,
  washersMm: [1, 1],
  clearance: { minMm: 0.4, maxMm: 0.7 },
  width: { minMm: 55.5, maxMm: 55.8 },
  widthNowMm: 55.7,
  partTemperatureC: 21,
}
const FIT = {
  pinMm: [22.07, 22.071],
  boreMm: [22, 21.999],
  engagementMm: 18,
  webOuterMm: 44,
  pinHoleMm: 0,
  pin: { youngsGPa: 205, poisson: 0.29 },
  web: {},
  friction: { low: 0.12, high: 0.2 },
  floorMm: 0.0484,
  shopFloorMm: 0.06,
}
const LEARNING = {
  points: [1, 2, 4].map((n, index) => ({ n, hours: [9, 7.4, 5.9][index]! })),
  confidence: 0.9,
  targetHours: 5,
  predictAt: [8, 8.5],
}

type Sum = (body: never) => unknown
const SUMS = {
  truing: { takes: truingIn, answers: truingOut, body: TRUING, sum: truing as Sum },
  width: { takes: widthIn, answers: widthOut, body: WIDTH, sum: width as Sum },
  fit: { takes: fitIn, answers: fitOut, body: FIT, sum: pressFit as Sum },
  learning: { takes: learningIn, answers: learningOut, body: LEARNING, sum: learning as Sum },
} as const
type Name = keyof typeof SUMS
const NAMES = Object.keys(SUMS) as Name[]
const faultsOf = (name: Name, body: unknown) => faultsIn(SUMS[name].takes, body)

testTheWire(SUMS)

describe('each fault is named at its field', () => {
  it.each<[Name, string, unknown]>([
    ['truing', 'strokeMm', 9.9],
    ['truing', 'strokeMm', 300.1],
    ['truing', 'strokeMm', '60'],
    ['truing', 'strokeMm', undefined],
    ['truing', 'supportLeftMm', 0],
    ['truing', 'supportRightMm', undefined],
    ['truing', 'dialLeftMm', 0],
    ['truing', 'dialLeftMm', 0.5],
    ['truing', 'dialRightMm', -0.9],
    ['truing', 'dialRightMm', -1001],
    ['truing', 'dialRightMm', undefined],
    ['truing', 'left', undefined],
    ['truing', 'left/readings', undefined],
    ['truing', 'left/readings', 'none'],
    ['truing', 'left/readings/2/mm', 50.01],
    ['truing', 'left/readings/2/mm', null],
    ['truing', 'left/readings/0/clockDeg', 1.1e9],
    ['truing', 'right/highAtDeg', undefined],
    ['truing', 'right/tirMm', undefined],
    ['truing', 'right/tirMm', 20.5],
    ['truing', 'held', 'neither'],
    ['truing', 'limitTirMm', -0.01],
    ['truing', 'limitTirMm/rightMm', 21],
    ['truing', 'rimRadiusMm', 4],
    ['truing', 'readingDoubtMm', -1],
    ['width', 'webLeftMm', -0.1],
    ['width', 'washersMm', undefined],
    ['width', 'washersMm/1', 1e10],
    ['width', 'clearance/maxMm', 0.3],
    ['width', 'width/maxMm', 55.4],
    ['width', 'partTemperatureC', -273],
    ['fit', 'pinMm', []],
    ['fit', 'boreMm', []],
    ['fit', 'pinMm/0', 0.9],
    ['fit', 'boreMm/1', 300.1],
    ['fit', 'webOuterMm', 22],
    ['fit', 'pinHoleMm', 22],
    ['fit', 'friction/high', 0.1],
    ['fit', 'pin/poisson', 0.5],
    ['fit', 'web/youngsGPa', 0],
    ['fit', 'engagementMm', undefined],
    ['learning', 'points/0/n', 0],
    ['learning', 'points/1/hours', 0.009],
    ['learning', 'points/1/hours', 10_001],
    ['learning', 'confidence', 1],
    ['learning', 'targetHours', 0],
    ['learning', 'predictAt/1', -5],
    ['learning', 'points', undefined],
  ])('%s: %s = %s', (name, path, to) => {
    expect(faultsOf(name, SUMS[name].body)).toEqual([])
    expect(faultsOf(name, withMember(SUMS[name].body, path, to))).toEqual([path])
  })

  it('names every fault of a body, not the first alone', () => {
    const body = withMember(withMember(TRUING, 'strokeMm', 5), 'left/readings/1/mm', 99)
    expect(faultsOf('truing', body)).toEqual(['strokeMm', 'left/readings/1/mm'])
    expect(faultsOf('truing', {})).toEqual(['strokeMm', 'supportLeftMm', 'supportRightMm', 'dialLeftMm', 'dialRightMm', 'left', 'right'])
    expect(faultsOf('width', {}).length).toBe(6)
    expect(faultsOf('fit', {})).toEqual(['pinMm', 'boreMm', 'engagementMm'])
  })

  it('refuses lists over 10,000 and takes just as many', () => {
    const points = (count: number) => Array.from({ length: count }, (_, index) => ({ n: index + 1, hours: 5 }))
    expect(faultsOf('learning', { points: points(10_000) })).toEqual([])
    expect(faultsOf('learning', { points: points(10_001) })).toEqual(['points'])
  })

  it('an end with readings and a full swing says so at the readings', () => {
    expect(faultsOf('truing', withMember(TRUING, 'left/tirMm', 0.1))).toEqual(['left/readings'])
    expect(faultsOf('truing', withMember(TRUING, 'right', {}))).toEqual(['right/readings'])
  })

  it('leaves too few points to the sum, which answers in words', () => {
    expect(faultsOf('learning', { points: [] })).toEqual([])
    expect(faultsOf('truing', withMember(TRUING, 'left', { readings: [] }))).toEqual([])
  })
})

describe('one main held true', () => {
  const held = { strokeMm: 60, held: 'left', supportRightMm: 40, dialRightMm: 45, right: round([0, 0.05, 0, -0.05]) }

  it('needs nothing of the held end, and answers the short form', () => {
    const answer = value(truing(truingIn.parse(held)))
    expect(truingOut.parse(answer)).toEqual(answer)
    expect(answer).toMatchObject({ faults: { swingMm: 0.05 } })
  })

  it('needs all of the free end', () => {
    expect(faultsOf('truing', withMember(held, 'right', undefined))).toEqual(['right'])
    expect(faultsOf('truing', withMember(held, 'held', 'right'))).toEqual(['supportLeftMm', 'dialLeftMm', 'left'])
    expect(faultsOf('truing', withMember(held, 'held', undefined))).toEqual(['supportLeftMm', 'dialLeftMm', 'left'])
  })
})

describe('whatever the wire takes, the sum answers or refuses in words', () => {
  const number = (min: number, max: number) => fc.oneof(fc.double({ min, max, noNaN: true }), fc.constantFrom(min, max))
  const maybe = <Value>(arbitrary: fc.Arbitrary<Value>) => fc.option(arbitrary, { nil: undefined })
  const readings = fc.array(fc.record({ clockDeg: number(-1e9, 1e9), mm: number(-50, 50) }), { maxLength: 9 })
  const end = fc.oneof(fc.record({ readings }), fc.record({ tirMm: number(0, 20), highAtDeg: number(-1e9, 1e9) }))
  const dialAway = fc.oneof(number(1, 1000), number(-1000, -1))
  const bodies: Record<Name, fc.Arbitrary<unknown>> = {
    truing: fc.record({
      strokeMm: number(10, 300),
      supportLeftMm: number(1, 1000),
      supportRightMm: number(1, 1000),
      dialLeftMm: dialAway,
      dialRightMm: dialAway,
      left: end,
      right: end,
      held: maybe(fc.constantFrom('both', 'left', 'right')),
      limitTirMm: maybe(fc.oneof(number(0, 20), fc.record({ leftMm: number(0, 20), rightMm: number(0, 20) }))),
      rimRadiusMm: maybe(number(5, 500)),
      readingDoubtMm: maybe(number(0, 20)),
    }),
    width: fc.record({
      webLeftMm: number(0, 1e9),
      webRightMm: number(0, 1e9),
      rodWidthMm: number(0, 1e9),
      washersMm: fc.array(number(0, 1e9), { maxLength: 4 }),
      clearance: fc.record({ minMm: number(0, 1), maxMm: number(1, 1e9) }),
      width: fc.record({ minMm: number(0, 60), maxMm: number(60, 1e9) }),
      widthNowMm: maybe(number(0, 1e9)),
      partTemperatureC: maybe(number(-100, 1000)),
    }),
    fit: fc.record({
      pinMm: fc.array(number(1, 300), { minLength: 1, maxLength: 4 }),
      boreMm: fc.array(number(1, 100), { minLength: 1, maxLength: 4 }),
      engagementMm: number(0, 1e9),
      webOuterMm: maybe(number(100.001, 300)),
      pinHoleMm: maybe(number(0, 0.999)),
      pin: maybe(fc.record({ youngsGPa: number(0.001, 100_000), poisson: number(0, 0.499) })),
      web: maybe(fc.record({ youngsGPa: maybe(number(0.001, 100_000)) })),
      friction: maybe(fc.record({ low: number(0, 1), high: number(1, 10) })),
      floorMm: maybe(number(0, 1e9)),
      shopFloorMm: maybe(number(0, 1e9)),
    }),
    learning: fc.record({
      points: fc.array(fc.record({ n: fc.oneof(number(1e-9, 1e9), fc.integer({ min: 1, max: 50 })), hours: number(0.01, 10_000) }), {
        maxLength: 8,
      }),
      confidence: maybe(number(0.01, 0.999_999)),
      targetHours: maybe(number(0.01, 10_000)),
      predictAt: maybe(fc.array(number(1e-9, 1e9), { maxLength: 4 })),
    }),
  }

  it.each(NAMES)('%s', (name) => {
    const { takes, answers, sum } = SUMS[name]
    let answeredAtAll = 0
    fc.assert(
      fc.property(bodies[name], (generated) => {
        const body = takes.parse(JSON.parse(JSON.stringify(generated)))
        const answer = sum(body as never) as Answer<unknown>
        if (answer.ok === false) {
          expect(answer.detail).toMatch(/\.$/)
          return
        }
        answeredAtAll++
        // zod refuses NaN and Infinity, so that what it takes can be written.
        const written = value(answer)
        expect(answers.parse(written)).toEqual(written)
      }),
      { numRuns: 300 },
    )
    expect(answeredAtAll).toBeGreaterThan(20)
  })
})
