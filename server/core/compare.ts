import { type Answer, answered, refuse } from '#core/answer.ts'
import { COUNT, needWhole } from '#core/limits.ts'
import { hypergeometricPmf } from '#core/numeric/distributions.ts'

/** Failures among a total. */
export interface Side {
  failures: number
  total: number
}

export interface CompareInput {
  a: Side
  b: Side
}

const METHOD = { name: 'Fisher’s exact test, two-sided, by the less likely tables', version: '1' } as const

export interface CompareAnswer {
  /** How likely a table is that is no likelier than this one, if both sides were alike. */
  p: number
  /** Odds of a failure on side a over those on side b, as counted; absent when a cell that divides is 0. */
  oddsRatio?: number
  method: typeof METHOD
}

const SUM = 'compare'
/** Chances that differ by less are equal; common practice in programs for this test. */
const EQUAL = 1 + 1e-7
/** Chances below are taken for nothing: under the smallest full binary fraction a product stops shrinking. */
const VANISHED = 1e-300

/**
 * Whether two sides fail alike: Fisher's exact test.
 *
 * @example compare({ a: { failures: 3, total: 4 }, b: { failures: 1, total: 4 } }).value.p.toFixed(6) // '0.485714'
 * @example compare({ a: { failures: 3, total: 4 }, b: { failures: 1, total: 4 } }).value.oddsRatio // 9
 *
 * Whole counts 0 to 1e9, no more failures than the total. p lies in 0 to 1; it is 0 only where it is less than 1e-300.
 * Refuses a side with a total of 0 (`too-few-points`).
 * Source: Fisher (1935), The Design of Experiments, chapter 2; two-sided by adding up every table that is no likelier.
 */
export function compare({ a, b }: CompareInput): Answer<CompareAnswer> {
  checkSide('a', a)
  checkSide('b', b)
  if (a.total === 0 || b.total === 0) return refuse('too-few-points', 'Each side needs a total of 1 or more.')
  const p = twoSided(a.failures, a.total, b.failures, b.total)
  const divides = (a.total - a.failures) * b.failures
  if (divides === 0) return answered({ p, method: METHOD })
  return answered({ p, oddsRatio: (a.failures * (b.total - b.failures)) / divides, method: METHOD })
}

/**
 * The chances of all tables with these margins, from the likeliest outwards to where they vanish: each follows from its
 * neighbour by a ratio of whole numbers, so that tables alike stay alike. What the library's logarithms lose at large counts
 * is the same for all of them and goes with the division by their sum.
 */
function twoSided(seen: number, totalA: number, failuresB: number, totalB: number): number {
  const failures = seen + failuresB
  const most = Math.min(failures, totalA)
  const least = Math.max(0, failures - totalB)
  const likeliest = Math.min(most, Math.max(least, Math.floor(((failures + 1) * (totalA + 1)) / (totalA + totalB + 2))))
  const peak = hypergeometricPmf(likeliest, totalA + totalB, failures, totalA)
  const up = outwards(peak, likeliest, most, (k) => ((failures - k) * (totalA - k)) / ((k + 1) * (totalB - failures + k + 1)))
  const down = outwards(peak, -likeliest, -least, (k) => (-k * (totalB - failures - k)) / ((failures + k + 1) * (totalA + k + 1)))
  const own = seen === likeliest ? peak : ((seen > likeliest ? up[seen - likeliest - 1] : down[likeliest - seen - 1]) ?? 0)
  let all = 0
  let noLikelier = 0
  // The smallest first, so that none is lost beside a large one.
  for (const side of [up, down]) {
    for (let index = side.length - 1; index >= 0; index--) {
      all += side[index]!
      if (side[index]! <= own * EQUAL) noLikelier += side[index]!
    }
  }
  all += peak
  if (peak <= own * EQUAL) noLikelier += peak
  return noLikelier / all
}

/** Chances at from + 1, from + 2 … to, up to where they vanish. */
function outwards(peak: number, from: number, to: number, ratio: (k: number) => number): number[] {
  const chances: number[] = []
  let chance = peak
  for (let k = from; k < to; k++) {
    chance *= ratio(k)
    if (chance < VANISHED) break
    chances.push(chance)
  }
  return chances
}

function checkSide(name: 'a' | 'b', side: Side): void {
  needWhole(SUM, `failures of ${name}`, side.failures, COUNT)
  needWhole(SUM, `total of ${name}`, side.total, COUNT)
  if (side.failures > side.total) throw new RangeError(`${SUM} needs failures of ${name} no more than its total`)
}
