import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type SurvivalInput, survival } from '#core/survival.ts'
import type { SurvivalItem } from '#core/survival-lives.ts'
import { INTERVAL_KINDS } from '#core/survival-steps.ts'
import { expectNear, expectRefused, expectWritable, solved, type VectorRow } from '#tests/core/near.ts'
import vectors from '#tests/vectors/survival.json' with { type: 'json' }

const failed = (...at: number[]): SurvivalItem[] => at.map((one) => ({ at: one, failed: true }))
const running = (...at: number[]): SurvivalItem[] => at.map((one) => ({ at: one, failed: false }))
const only = (input: SurvivalInput) => solved(survival(input)).groups[0]!

describe('survival', () => {
  it.each(vectors as unknown as VectorRow<SurvivalInput>[])('$name ($source, $status)', ({ input, expected, tolerance }) => {
    expectNear(solved(survival(input)), expected, tolerance)
  })

  it('one step for each time with a failure, none at 0 and none at a censoring', () => {
    const { steps, count, failures } = only({ items: [...running(0, 2, 5, 9), ...failed(3, 3, 7)] })
    expect(steps.map(({ at, atRisk, failures: gone }) => [at, atRisk, gone])).toEqual([
      [3, 5, 2],
      [7, 2, 1],
    ])
    expect([count, failures]).toEqual([7, 3])
  })

  it('a failure at the time of a censoring counts as the earlier', () => {
    expect(only({ items: [...failed(5), ...running(5, 8)] }).steps[0]).toMatchObject({ atRisk: 3 })
  })

  it('without groups there is one named all, and no log-rank', () => {
    const answer = solved(survival({ items: failed(1, 2) }))
    expect(answer.groups.map(({ group }) => group)).toEqual(['all'])
    expect(answer).not.toHaveProperty('logRank')
  })

  it('groups stand in the order in which they are named first; a number stands for its text', () => {
    const items = [...failed(1, 2).map((item, index) => ({ ...item, group: index + 7 })), { at: 3, failed: true, group: '7' }]
    expect(solved(survival({ items })).groups.map(({ group, count }) => [group, count])).toEqual([
      ['7', 2],
      ['8', 1],
    ])
  })
})

describe('median', () => {
  it.each<[string, SurvivalItem[], number | undefined]>([
    ['first time with half or less', failed(1, 2, 3, 4, 5), 3],
    ['the middle where just half are left until the next failure', failed(1, 2, 5, 6), 3.5],
    ['the same where one half is a product of thirds and quarters', [...failed(1, 2, 3, 7, 8), ...running(9)], 5],
    ['that failure itself where just half are left and none fails after', [...failed(1, 2), ...running(7, 8)], 2],
    ['absent where more than half are left', [...failed(1), ...running(7, 8)], undefined],
    ['the failure that goes from over half to under it', [...failed(1, 2, 8, 9), ...running(2.5)], 8],
  ])('%s', (_name, items, expected) => {
    expect(only({ items }).median).toBe(expected)
  })
})

describe('intervals', () => {
  const items = [...failed(3, 5, 8, 8, 13), ...running(4, 9, 10, 20)]

  it('are log-log at 95 % unless said', () => {
    expect(only({ items })).toEqual(only({ items, interval: 'log-log', confidence: 0.95 }))
  })

  it.each(INTERVAL_KINDS)('%s: hold the curve, within 0 and 1, wider for more confidence, and absent where nothing is left', (interval) => {
    const all = [...items, ...failed(21)]
    const narrow = only({ items: all, interval, confidence: 0.5 }).steps
    const wide = only({ items: all, interval, confidence: 0.999 }).steps
    const last = narrow.pop()!
    expect(last).toEqual({ at: 21, atRisk: 1, failures: 1, survival: 0 })
    for (const [index, step] of narrow.entries()) {
      expect(step.low!).toBeLessThan(step.survival)
      expect(step.high!).toBeGreaterThan(step.survival)
      expect(wide[index]!.low!).toBeLessThan(step.low!)
      expect(wide[index]!.high!).toBeGreaterThanOrEqual(step.high!)
      expect(wide[index]!.low!).toBeGreaterThanOrEqual(0)
      expect(wide[index]!.high!).toBeLessThanOrEqual(1)
    }
  })

  it('log is exp(ln S ± z·se/S), worked by hand: S 2/3, Greenwood 1/6', () => {
    // Three at risk, one fails: 1/(3·2) is the variance of ln S; z at 95 % is 1.959964.
    const [step] = only({ items: [...failed(1), ...running(2, 3)], interval: 'log' }).steps
    expect(step!.low).toBeCloseTo((2 / 3) * Math.exp(-1.959964 * Math.sqrt(1 / 6)), 6)
    expect(step!.high).toBe(1)
    const [plain] = only({ items: [...failed(1), ...running(2, 3)], interval: 'plain' }).steps
    expect(plain!.low).toBeCloseTo((2 / 3) * (1 - 1.959964 * Math.sqrt(1 / 6)), 6)
    const [both] = only({ items: [...failed(1), ...running(2, 3)] }).steps
    const stretch = Math.exp((1.959964 * Math.sqrt(1 / 6)) / Math.log(3 / 2))
    expect(both!.low).toBeCloseTo((2 / 3) ** stretch, 6)
    expect(both!.high).toBeCloseTo((2 / 3) ** (1 / stretch), 6)
  })
})

const item = fc.record({
  at: fc.oneof(fc.integer({ min: 1, max: 12 }), fc.double({ min: 0.01, max: 1e4, noNaN: true })),
  failed: fc.boolean(),
})
const many = fc.array(item, { minLength: 1, maxLength: 40 }).filter((items) => items.some((one) => one.failed))

describe('for any lives', () => {
  it('the curve never rises, those at risk grow fewer, and the order of the items does not matter', () => {
    fc.assert(
      fc.property(many, fc.constantFrom(...INTERVAL_KINDS), (items, interval) => {
        const group = only({ items, interval })
        expectWritable(group)
        let before = { at: 0, survival: 1, atRisk: items.length + 1 }
        for (const step of group.steps) {
          expect(step.at).toBeGreaterThan(before.at)
          expect(step.survival).toBeLessThan(before.survival)
          expect(step.survival).toBeGreaterThanOrEqual(0)
          expect(step.atRisk).toBeLessThan(before.atRisk)
          before = step
        }
        expect(group.steps.reduce((sum, { failures }) => sum + failures, 0)).toBe(items.filter((one) => one.failed).length)
        expect(only({ items: [...items].reverse(), interval })).toEqual(group)
      }),
    )
  })

  it('with nothing censored the curve is the share that outlived each time', () => {
    fc.assert(
      fc.property(many, (items) => {
        const all = items.map(({ at }) => ({ at, failed: true }))
        for (const { at, survival: left } of only({ items: all }).steps) {
          expect(left).toBeCloseTo(all.filter((one) => one.at > at).length / all.length, 12)
        }
      }),
    )
  })

  it('times in another unit stretch the curve, the median and the Weibull scale alone', () => {
    fc.assert(
      fc.property(many, (items) => {
        const one = only({ items })
        const other = only({ items: items.map(({ at, failed: gone }) => ({ at: at * 64, failed: gone })) })
        expect(other.steps.map((step) => ({ ...step, at: step.at / 64 }))).toEqual(one.steps)
        expect((other.median ?? 0) / 64).toBe(one.median ?? 0)
        expect(other.weibull === undefined).toBe(one.weibull === undefined)
        if (one.weibull === undefined) return
        expect(other.weibull!.shape / one.weibull.shape).toBeCloseTo(1, 9)
        expect(other.weibull!.scale / one.weibull.scale / 64).toBeCloseTo(1, 9)
      }),
    )
  })
})

describe('survival refuses', () => {
  it('no items, and none that failed, in words', () => {
    expectRefused(survival({ items: [] }), 'too-few-points')
    expectRefused(survival({ items: running(1, 2, 3) }), 'all-censored')
  })

  it.each<[string, SurvivalInput]>([
    ['a life below 0', { items: running(-1) }],
    ['a life that is none', { items: failed(Number.NaN) }],
    ['a failure at 0', { items: failed(1, 0) }],
    ['a group for some only', { items: [...failed(1), { at: 2, failed: true, group: 'a' }] }],
    ['a confidence of 1', { items: failed(1), confidence: 1 }],
    ['more than two hundred groups', { items: Array.from({ length: 201 }, (_, group) => ({ at: 1, failed: true, group })) }],
    ['more than a hundred thousand items', { items: new Array(100_001).fill({ at: 1, failed: true }) }],
  ])('%s as misuse', (_name, input) => {
    expect(() => survival(input)).toThrow(/^survival needs /)
  })

  it('nothing of one group without a failure beside another with some', () => {
    const items = [...failed(1, 2).map((one) => ({ ...one, group: 'a' })), ...running(3, 4).map((one) => ({ ...one, group: 'b' }))]
    const [, still] = solved(survival({ items })).groups
    expect(still).toEqual({ group: 'b', count: 2, failures: 0, steps: [] })
  })

  it('nothing of a hundred thousand items in two hundred groups', () => {
    const items = Array.from({ length: 100_000 }, (_, index) => ({
      at: 1 + ((index * 7919) % 99_991) / 10,
      failed: index % 3 > 0,
      group: index % 200,
    }))
    const answer = solved(survival({ items }))
    expect(answer.groups).toHaveLength(200)
    expect(answer.logRank!.degreesOfFreedom).toBe(199)
    expectWritable(answer.logRank)
  })
})
