import { compare } from '#core/compare.ts'
import { LOT_CHANCE } from '#core/office-rules.ts'

/** One that came back is no flock, however rare. Common practice, no source. */
const FLOCK = 2

/** One kit lot: cranks that went home with it, and how many of them came back. */
export interface LotCount {
  key: string
  n: number
  back: number
}

export interface LotAgainstOthers {
  /** All other lots together. */
  others: { n: number; back: number }
  /** Fisher's exact test, two-sided. */
  p: number
  /** The same for as many lots as are looked at. */
  pHolm: number
  notChance: boolean
}

/**
 * Probabilities of several tests, raised so that a false alarm among all of them together is as rare as one of a single
 * test: the least one times their number, the next one times one fewer, and so on, never under the one before, 1 at most.
 *
 * @example holm([0.01, 0.04, 0.03]) // [0.03, 0.06, 0.06]
 *
 * Each from 0 to 1; refuses (RangeError) others.
 * Source: Holm, S. (1979), "A simple sequentially rejective multiple test procedure", Scandinavian Journal of Statistics 6:65–70.
 */
export function holm(ps: readonly number[]): number[] {
  if (ps.some((p) => !(p >= 0 && p <= 1))) throw new RangeError('holm needs probabilities from 0 to 1')
  const raised = new Array<number>(ps.length).fill(0)
  let before = 0
  ps.map((p, index) => ({ p, index }))
    .sort((one, other) => one.p - other.p)
    .forEach(({ p, index }, place) => {
      before = Math.max(before, Math.min(1, p * (ps.length - place)))
      raised[index] = before
    })
  return raised
}

/**
 * Which of several exact tests could come out small at all, by the least probability that each could reach. A lot of one
 * crank never can, and counting it among the many would only hide the bad one.
 *
 * @example testable([0.001, 0.2, 0.03], 0.05) // [true, false, false]
 *
 * Each from 0 to 1, the level too; refuses (RangeError) others. Source: Tarone, R. E. (1990), "A modified Bonferroni method
 * for discrete data", Biometrics 46:515–522.
 */
export function testable(least: readonly number[], level: number): boolean[] {
  if ([...least, level].some((p) => !(p >= 0 && p <= 1))) throw new RangeError('testable needs probabilities from 0 to 1')
  let tests = 1
  while (least.filter((p) => p <= level / tests).length > tests) tests++
  return least.map((p) => p <= level / tests)
}

/**
 * Each lot against all the others together, in the order given. A lot is not chance where two or more of it came back, more
 * than of the others, and its p, raised for as many lots as could show anything, is under 0.05. A single lot has nothing to
 * stand against: its p is 1.
 *
 * Refuses (RangeError) counts that are not whole and cranks back that did not go. Source: Fisher (1935) as in `compare`,
 * Holm (1979), Tarone (1990).
 *
 * @example lotsAgainstOthers([{ key: 'a', n: 14, back: 4 }, { key: 'b', n: 274, back: 5 }]).get('a').notChance // true
 */
export function lotsAgainstOthers(lots: readonly LotCount[]): Map<string, LotAgainstOthers> {
  const all = lots.reduce((sum, { n, back }) => ({ n: sum.n + n, back: sum.back + back }), { n: 0, back: 0 })
  const known = new Map<string, number>()
  const chanceOf = (n: number, back: number): number => {
    const name = `${n} ${back}`
    const p = known.get(name) ?? fisher({ n, back }, { n: all.n - n, back: all.back - back })
    known.set(name, p)
    return p
  }
  const ps = lots.map(({ n, back }) => chanceOf(n, back))
  const least = lots.map(({ n }) => Math.min(chanceOf(n, Math.min(n, all.back)), chanceOf(n, Math.max(0, n + all.back - all.n))))
  const isTestable = testable(least, LOT_CHANCE)
  const raisedOfTestable = holm(ps.filter((_p, index) => isTestable[index]))
  let place = 0
  const raised = isTestable.map((is) => (is ? raisedOfTestable[place++]! : 1))
  return new Map(
    lots.map(({ key, n, back }, index) => {
      const others = { n: all.n - n, back: all.back - back }
      // As whole numbers, so that two equal rates stay equal.
      const isMore = back * others.n > others.back * n
      const pHolm = raised[index]!
      return [key, { others, p: ps[index]!, pHolm, notChance: isMore && back >= FLOCK && pHolm < LOT_CHANCE }]
    }),
  )
}

function fisher(lot: { n: number; back: number }, others: { n: number; back: number }): number {
  const answer = compare({ a: { failures: lot.back, total: lot.n }, b: { failures: others.back, total: others.n } })
  return answer.ok ? answer.value.p : 1
}
