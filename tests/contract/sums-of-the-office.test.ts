import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { chartIn, chartOut } from '#contract/sum-chart.ts'
import { compareIn, compareOut } from '#contract/sum-compare.ts'
import { doubtIn, doubtOut } from '#contract/sum-doubt.ts'
import { gaugeIn, gaugeOut } from '#contract/sum-gauge.ts'
import { oddOneOutIn, oddOneOutOut } from '#contract/sum-odd-one-out.ts'
import { rateIn, rateOut } from '#contract/sum-rate.ts'
import { survivalIn, survivalOut } from '#contract/sum-survival.ts'
import type { Answer } from '#core/answer.ts'
import { chart } from '#core/chart.ts'
import { compare } from '#core/compare.ts'
import { DOUBT_RULES, DOUBT_SHAPES, doubt } from '#core/doubt.ts'
import { gauge } from '#core/gauge.ts'
import { oddOneOut } from '#core/odd-one-out.ts'
import { rate } from '#core/rate.ts'
import { survival } from '#core/survival.ts'
import { INTERVAL_KINDS } from '#core/survival-steps.ts'
import { faultsIn, testTheWire, value, withMember } from '#tests/contract/wire-shapes.ts'

const DOUBT = {
  parts: [
    { name: 'repeats', shape: 'normal', value: 0.35, degreesOfFreedom: 9, sensitivity: 1 },
    { name: 'graduation', shape: 'rectangular', value: 0.5 },
  ],
  coverage: 0.95,
  k: 2,
  measured: 1,
  limit: 3,
  rule: 'full-guard',
}
const SURVIVAL = {
  items: [
    { at: 10, failed: true, group: 'a' },
    { at: 12.5, failed: false, group: 'a' },
    { at: 20, failed: true, group: 'a' },
    { at: 9, failed: true, group: 2 },
    { at: 31, failed: true, group: 2 },
  ],
  confidence: 0.9,
  interval: 'log',
}
const READINGS = [1, 2, 3].flatMap((part) =>
  ['A', 'B'].flatMap((person) => [0, 0.1].map((again) => ({ part, person, value: part + again + (person === 'A' ? 0 : 0.05) }))),
)

type Sum = (body: never) => unknown
const SUMS = {
  doubt: { takes: doubtIn, answers: doubtOut, body: DOUBT, sum: doubt as Sum },
  survival: { takes: survivalIn, answers: survivalOut, body: SURVIVAL, sum: survival as Sum },
  rate: { takes: rateIn, answers: rateOut, body: { failures: 3, total: 20, confidence: 0.9 }, sum: rate as Sum },
  compare: {
    takes: compareIn,
    answers: compareOut,
    body: { a: { failures: 3, total: 20 }, b: { failures: 1, total: 30 } },
    sum: compare as Sum,
  },
  chart: { takes: chartIn, answers: chartOut, body: { values: [5, 6, 5.5], upperLimit: 9 }, sum: chart as Sum },
  gauge: { takes: gaugeIn, answers: gaugeOut, body: { readings: READINGS, tolerance: 3 }, sum: gauge as Sum },
  'odd-one-out': {
    takes: oddOneOutIn,
    answers: oddOneOutOut,
    body: { values: [1, 2, 3, 9], candidate: 4, threshold: 3 },
    sum: oddOneOut as Sum,
  },
} as const
type Name = keyof typeof SUMS
const NAMES = Object.keys(SUMS) as Name[]
const faultsOf = (name: Name, body: unknown) => faultsIn(SUMS[name].takes, body)

testTheWire(SUMS)

describe('each fault is named at its field', () => {
  it.each<[Name, string, unknown]>([
    ['doubt', 'parts', undefined],
    ['doubt', 'parts/0/name', ''],
    ['doubt', 'parts/0/shape', 'square'],
    ['doubt', 'parts/0/value', -0.1],
    ['doubt', 'parts/1/value', '1'],
    ['doubt', 'parts/0/degreesOfFreedom', 0.9],
    ['doubt', 'parts/0/degreesOfFreedom', null],
    ['doubt', 'parts/0/sensitivity', 1.1e9],
    ['doubt', 'coverage', 1],
    ['doubt', 'k', 0],
    ['doubt', 'measured', 'much'],
    ['doubt', 'limit', -2e9],
    ['doubt', 'rule', 'double'],
    ['survival', 'items', undefined],
    ['survival', 'items/0/at', 0],
    ['survival', 'items/1/at', -1],
    ['survival', 'items/1/at', 1.1e9],
    ['survival', 'items/2/failed', 1],
    ['survival', 'items/3/group', undefined],
    ['survival', 'items/3/group', ''],
    ['survival', 'items/3/group', true],
    ['survival', 'confidence', 0],
    ['survival', 'interval', 'logit'],
    ['rate', 'failures', undefined],
    ['rate', 'failures', 21],
    ['rate', 'failures', 1.5],
    ['rate', 'failures', -1],
    ['rate', 'total', undefined],
    ['rate', 'total', 1e10],
    ['rate', 'total', -1],
    ['rate', 'exposure', 5],
    ['rate', 'confidence', 1],
    ['compare', 'a', undefined],
    ['compare', 'b', 5],
    ['compare', 'a/failures', 21],
    ['compare', 'b/failures', 0.5],
    ['compare', 'b/total', -1],
    ['chart', 'values', undefined],
    ['chart', 'values', 'none'],
    ['chart', 'values/1', null],
    ['chart', 'values/2', -1.1e9],
    ['chart', 'upperLimit', 2e9],
    ['gauge', 'readings', undefined],
    ['gauge', 'readings/0/part', undefined],
    ['gauge', 'readings/0/part', ''],
    ['gauge', 'readings/3/person', {}],
    ['gauge', 'readings/3/value', 2e9],
    ['gauge', 'tolerance', 0],
    ['odd-one-out', 'values', undefined],
    ['odd-one-out', 'values/0', '1'],
    ['odd-one-out', 'candidate', 2e9],
    ['odd-one-out', 'threshold', 0],
  ])('%s: %s = %s', (name, path, to) => {
    expect(faultsOf(name, SUMS[name].body)).toEqual([])
    expect(faultsOf(name, withMember(SUMS[name].body, path, to))).toEqual([path])
  })

  it('names every fault of a body, not the first alone', () => {
    expect(faultsOf('compare', { a: { failures: -1, total: 0.5 }, b: {} })).toEqual(['a/failures', 'a/total', 'b/failures', 'b/total'])
    expect(faultsOf('survival', { items: [{ at: -1, failed: true }, { failed: 'no' }] })).toEqual([
      'items/0/at',
      'items/1/at',
      'items/1/failed',
    ])
  })

  it('a rate takes either total or exposure, and failures over the exposure', () => {
    expect(faultsOf('rate', { failures: 30, exposure: 0.5 })).toEqual([])
    expect(faultsOf('rate', { failures: 30 })).toEqual(['total'])
    expect(faultsOf('rate', { failures: 3, total: 5, exposure: 1 })).toEqual(['exposure'])
  })

  it('every life at fault in a list of lives, so that the answer can say how many there are', () => {
    const items = Array.from({ length: 500 }, () => ({ at: 0, failed: true }))
    expect(faultsOf('survival', { items })).toEqual(items.map((_, index) => `items/${index}/at`))
  })

  it('no more than two hundred groups', () => {
    const items = (count: number) => Array.from({ length: count }, (_, group) => ({ at: 1, failed: true, group }))
    expect(faultsOf('survival', { items: items(200) })).toEqual([])
    expect(faultsOf('survival', { items: items(201) })).toEqual(['items'])
  })

  it.each<[Name, string, unknown, number]>([
    ['doubt', 'parts', DOUBT.parts[0], 10_000],
    ['survival', 'items', SURVIVAL.items[0], 100_000],
    ['chart', 'values', 1, 10_000],
    ['gauge', 'readings', READINGS[0], 10_000],
    ['odd-one-out', 'values', 1, 10_000],
  ])('%s: takes just as many %s as it says, and not one more', (name, path, one, most) => {
    expect(faultsOf(name, withMember(SUMS[name].body, path, new Array(most).fill(one)))).toEqual([])
    expect(faultsOf(name, withMember(SUMS[name].body, path, new Array(most + 1).fill(one)))).toEqual([path])
  })

  it('leaves too few figures to the sum, which answers in words', () => {
    for (const [name, path] of [
      ['doubt', 'parts'],
      ['survival', 'items'],
      ['chart', 'values'],
      ['gauge', 'readings'],
      ['odd-one-out', 'values'],
    ] as const)
      expect(faultsOf(name, withMember(SUMS[name].body, path, []))).toEqual([])
    expect(faultsOf('rate', { failures: 0, total: 0 })).toEqual([])
    expect(faultsOf('rate', { failures: 0, exposure: 0 })).toEqual([])
  })
})

describe('whatever the wire takes, the sum answers or refuses in words', () => {
  const number = (min: number, max: number) => fc.oneof(fc.double({ min, max, noNaN: true }), fc.constantFrom(min, max))
  const whole = (max: number) => fc.oneof(fc.integer({ min: 0, max }), fc.constantFrom(0, 1, max))
  const maybe = <Value>(arbitrary: fc.Arbitrary<Value>) => fc.option(arbitrary, { nil: undefined })
  const above = fc.oneof(fc.double({ min: 5e-324, max: 1e9, noNaN: true }), fc.constantFrom(5e-324, 1e9, 3))
  const confidence = maybe(number(0.01, 0.999_999))
  // Few different values, so that ties, scatter of nothing and neighbours among the binary fractions come up.
  const figure = fc.oneof(fc.constantFrom(0, 0.1, 0.3, 1, 1 + 2 ** -52, -1e9, 1e9, 5e-324), number(-1e9, 1e9))
  const life = fc.oneof(fc.constantFrom(5e-324, 1, 1 + 2 ** -52, 2, 3, 1e9), number(5e-324, 1e9))
  const side = fc.tuple(whole(1e9), whole(1e9)).map(([one, other]) => ({ failures: Math.min(one, other), total: Math.max(one, other) }))
  const item = fc.oneof(fc.record({ at: life, failed: fc.boolean() }), fc.constant({ at: 0, failed: false }))
  const bodies: Record<Name, fc.Arbitrary<unknown>> = {
    doubt: fc.record({
      parts: fc.array(
        fc.record({
          name: fc.constant('a'),
          shape: fc.constantFrom(...DOUBT_SHAPES),
          value: fc.oneof(number(0, 1e9), fc.constant(5e-324)),
          degreesOfFreedom: maybe(number(1, 1e9)),
          sensitivity: maybe(number(-1e9, 1e9)),
        }),
        { maxLength: 5 },
      ),
      coverage: confidence,
      k: maybe(above),
      measured: maybe(figure),
      limit: maybe(figure),
      rule: maybe(fc.constantFrom(...DOUBT_RULES)),
    }),
    survival: fc.boolean().chain((grouped) =>
      fc.record({
        items: fc.array(grouped ? fc.tuple(item, fc.constantFrom('a', 'b', 3)).map(([one, group]) => ({ ...one, group })) : item, {
          maxLength: 12,
        }),
        confidence,
        interval: maybe(fc.constantFrom(...INTERVAL_KINDS)),
      }),
    ),
    rate: fc.oneof(
      side.chain(({ failures, total }) => fc.record({ failures: fc.constant(failures), total: fc.constant(total), confidence })),
      fc.record({ failures: whole(1e9), exposure: fc.oneof(fc.constant(0), above), confidence }),
    ),
    compare: fc.record({ a: side, b: side }),
    chart: fc.record({ values: fc.array(figure, { maxLength: 8 }), upperLimit: maybe(figure) }),
    gauge: fc
      .record({
        values: fc.array(figure, { minLength: 16, maxLength: 16 }),
        parts: fc.integer({ min: 1, max: 4 }),
        people: fc.integer({ min: 1, max: 2 }),
        tolerance: maybe(above),
      })
      .map(({ values, parts, people, tolerance }) => ({
        readings: values
          .slice(0, 2 * parts * people)
          .map((one, index) => ({ part: index % parts, person: `${Math.floor(index / parts) % people}`, value: one })),
        tolerance,
      })),
    'odd-one-out': fc.record({ values: fc.array(figure, { maxLength: 8 }), candidate: maybe(figure), threshold: maybe(above) }),
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
      // Fisher's test walks a hundred thousand tables for counts of a billion.
      { numRuns: name === 'compare' ? 60 : 500 },
    )
    expect(answeredAtAll).toBeGreaterThan(20)
  })
})
