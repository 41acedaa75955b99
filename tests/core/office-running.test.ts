import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type HourCount, logRankOfTwo, stillRunning } from '#core/office-running.ts'
import { survival } from '#core/survival.ts'

interface Item {
  at: number
  failed: boolean
}

function counted(items: readonly Item[]): HourCount[] {
  const hours = [...new Set(items.map(({ at }) => at))]
  return hours.map((at) => {
    const here = items.filter((item) => item.at === at)
    return { hours: at, count: here.length, back: here.filter(({ failed }) => failed).length }
  })
}

const item = fc.record({ at: fc.integer({ min: 1, max: 12 }), failed: fc.boolean() })
const items = fc.array(item, { minLength: 1, maxLength: 40 })

describe('stillRunning', () => {
  // NIST/SEMATECH e-Handbook 8.2.1.5 (read): failures 10 32 56 98 122 181, censored 50 100 125 150 and ten at 200.
  test('the e-Handbook’s example', () => {
    const failed = [10, 32, 56, 98, 122, 181].map((at) => ({ at, failed: true }))
    const running = [50, 100, 125, 150, ...Array<number>(10).fill(200)].map((at) => ({ at, failed: false }))
    const { steps } = stillRunning(counted([...failed, ...running]))
    expect(steps.map((step) => step.survival.toFixed(7))).toEqual(
      [0.95, 0.9, 0.8470588, 0.7941176, 0.737395, 0.6703591].map((share) => share.toFixed(7)),
    )
  })

  test('from counts it answers what the survival sum answers of the cranks one by one', () => {
    fc.assert(
      fc.property(items, (lives) => {
        const answer = survival({ items: lives })
        const mine = stillRunning(counted(lives))
        const group = answer.ok ? answer.value.groups[0] : { steps: [], median: undefined }
        expect(mine.medianHours).toBe(group!.median)
        expect(mine.steps).toHaveLength(group!.steps.length)
        mine.steps.forEach((step, index) => {
          const theirs = group!.steps[index]!
          expect([step.at, step.atRisk, step.failures]).toEqual([theirs.at, theirs.atRisk, theirs.failures])
          for (const name of ['survival', 'low', 'high'] as const) {
            if (theirs[name] === undefined) expect(step[name]).toBeUndefined()
            else expect(step[name]).toBeCloseTo(theirs[name], 10)
          }
        })
      }),
    )
  })

  test('refuses hours below 0, one that came back at 0, more back than there are, and the same hours twice', () => {
    const odd: HourCount[][] = [
      [{ hours: -1, count: 1, back: 0 }],
      [{ hours: 0, count: 1, back: 1 }],
      [{ hours: 1, count: 1, back: 2 }],
      [{ hours: 1, count: 1.5, back: 0 }],
    ]
    for (const counts of odd) expect(() => stillRunning(counts)).toThrow('stillRunning needs hours of 0 or more')
    expect(() => stillRunning([1, 1].map((hours) => ({ hours, count: 1, back: 0 })))).toThrow(
      'stillRunning needs each number of hours once',
    )
  })
})

describe('logRankOfTwo', () => {
  // Freireich et al. (1963), Blood 21:699, the 6-MP trial; 16.79 in Kleinbaum & Klein, Survival Analysis (memory), recomputed 16.79294099.
  test('the 6-MP trial', () => {
    const treated = [...[6, 6, 6, 7, 10, 13, 16, 22, 23].map((at) => ({ at, failed: true }))]
    const still = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35].map((at) => ({ at, failed: false }))
    const control = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23].map((at) => ({ at, failed: true }))
    expect(logRankOfTwo(counted([...treated, ...still]), counted(control))?.chiSquare).toBeCloseTo(16.79294099, 7)
  })

  test('is the log-rank of the survival sum', () => {
    fc.assert(
      fc.property(items, items, (one, other) => {
        const grouped = [...one.map((each) => ({ ...each, group: 'one' })), ...other.map((each) => ({ ...each, group: 'other' }))]
        const answer = survival({ items: grouped })
        const mine = logRankOfTwo(counted(one), counted(other))
        const theirs = answer.ok ? answer.value.logRank : undefined
        expect(mine === undefined).toBe(theirs === undefined)
        if (mine === undefined || theirs === undefined) return
        expect(mine.chiSquare).toBeCloseTo(theirs.chiSquare, 8)
        expect(mine.p).toBeCloseTo(theirs.p, 8)
      }),
    )
  })
})
