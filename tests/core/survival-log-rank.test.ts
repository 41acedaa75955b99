import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { livesByGroup, type SurvivalItem } from '#core/survival-lives.ts'
import { logRank } from '#core/survival-log-rank.ts'

const group = (name: string, ...lives: [number, boolean][]): SurvivalItem[] => lives.map(([at, failed]) => ({ at, failed, group: name }))
const test = (...groups: SurvivalItem[][]) => logRank(livesByGroup(groups.flat()))

/** Mantel's statistic of two groups, summed over failure times as the book has it. */
function direct(items: readonly SurvivalItem[]): number {
  let away = 0
  let variance = 0
  for (const at of new Set(items.filter(({ failed }) => failed).map((one) => one.at))) {
    const left = items.filter((one) => one.at >= at)
    const gone = left.filter((one) => one.at === at && one.failed)
    const first = left.filter((one) => one.group === 'a')
    const share = first.length / left.length
    away += gone.filter((one) => one.group === 'a').length - gone.length * share
    if (left.length > 1) variance += (gone.length * share * (1 - share) * (left.length - gone.length)) / (left.length - 1)
  }
  return away ** 2 / variance
}

// Published figures stand in tests/vectors/survival.json.
describe('logRank', () => {
  const items = fc.array(fc.record({ at: fc.integer({ min: 1, max: 15 }), failed: fc.boolean(), group: fc.constantFrom('a', 'b') }), {
    minLength: 4,
    maxLength: 40,
  })

  it('is the sum over failure times, whichever group stands first', () => {
    fc.assert(
      fc.property(items, (given) => {
        const found = logRank(livesByGroup(given))
        fc.pre(found !== undefined)
        expect(found!.chiSquare).toBeCloseTo(direct(given), 8)
        expect(logRank(livesByGroup([...given].reverse()))!.chiSquare).toBeCloseTo(found!.chiSquare, 8)
        expect(found!.p).toBeGreaterThanOrEqual(0)
        expect(found!.p).toBeLessThanOrEqual(1)
      }),
    )
  })

  it('groups that are copies of one another do not differ', () => {
    const lives: [number, boolean][] = [
      [1, true],
      [3, false],
      [4, true],
    ]
    const found = test(group('a', ...lives), group('b', ...lives), group('c', ...lives))!
    expect(found.chiSquare).toBeCloseTo(0, 12)
    expect(found).toMatchObject({ degreesOfFreedom: 2 })
    expect(found.p).toBeCloseTo(1, 9)
  })

  it('a group that was gone before the first failure is left out, with its degree of freedom', () => {
    const two = [group('a', [2, true], [5, false]), group('b', [3, true], [9, true])]
    const three = test(group('gone', [1, false], [1.5, false]), ...two)
    expect(three).toEqual(test(...two))
    expect(three!.degreesOfFreedom).toBe(1)
  })

  it.each<[string, SurvivalItem[][]]>([
    ['one group', [group('a', [1, true], [2, true])]],
    ['one group that came as far as the first failure', [group('a', [1, false]), group('b', [2, true], [3, true])]],
    ['all that failed at once', [group('a', [2, true], [1, false]), group('b', [2, true], [2, true])]],
    ['no failure', [group('a', [2, false]), group('b', [2, false])]],
  ])('is absent for %s', (_name, groups) => {
    expect(test(...groups)).toBeUndefined()
  })

  it('two groups far apart have a p that is small, and not 0', () => {
    const lives = (from: number): [number, boolean][] => Array.from({ length: 200 }, (_, index) => [from + index, true])
    const { chiSquare, p } = test(group('a', ...lives(1)), group('b', ...lives(1000)))!
    expect(chiSquare).toBeGreaterThan(200)
    expect(p).toBeGreaterThan(0)
    expect(p).toBeLessThan(1e-40)
  })
})
