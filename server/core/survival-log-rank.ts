import { chiSquareUpper } from '#core/numeric/distributions.ts'
import { choleskyFactor, solveFactored } from '#core/numeric/symmetric-matrix.ts'
import type { Lives } from '#core/survival-lives.ts'

/** Whether groups last equally long. */
export interface LogRank {
  chiSquare: number
  degreesOfFreedom: number
  /** How likely a chi-square as great or greater is, if they did. */
  p: number
}

/** What each failure time adds to the sums below, counted up from the first: at any time the sum so far. */
interface Pace {
  times: Float64Array
  /** Σ failures/at risk. */
  expected: Float64Array
  /** Σ of the variance of one failure time over the square of those at risk. */
  variance: Float64Array
}

/**
 * Log-rank test of two groups or more. A group of which nothing came as far as the first failure says nothing and is left out,
 * one degree of freedom with it. Undefined where fewer than two are left, and where all of them failed at once, since nothing
 * then tells them apart.
 *
 * @example logRank([[1, 2], [3, 4]].map((at) => ({ group: '', failed: Float64Array.from(at), all: Float64Array.from(at) }))).chiSquare.toFixed(4) // '2.8824'
 *
 * Each member of a group meets every failure time up to its own, so that sums over failure times become sums over members:
 * group g expects Σ expected(t) of its own failures, and the covariance of two groups is −Σ over pairs of members of
 * variance(the lesser t). Taking the members in rising order, each meets as many of another group as are still there: so it
 * takes the members as often as there are groups, and not the failure times by pairs of groups.
 * Source: Mantel (1966), Peto and Peto (1972), Journal of the Royal Statistical Society A 135:185–207, from memory.
 */
export function logRank(lives: readonly Lives[]): LogRank | undefined {
  if (lives.length < 2) return undefined
  const pace = paceOf(lives)
  const first = pace.times[0]
  const present = lives.filter(({ all }) => first !== undefined && all[all.length - 1]! >= first)
  const rows = present.length - 1
  if (rows < 1 || pace.variance[0] === 0) return undefined
  const passed = present.map(({ all }) => timesPassed(all, pace.times))
  const away = present.map(({ failed }, index) => failed.length - expectedBy(passed[index]!, pace.expected))
  const factor = choleskyFactor(covariance(passed, pace.variance), rows)
  const solved = solveFactored(factor, away.slice(0, rows), rows)
  const statistic = solved.reduce((sum, value, row) => sum + value * away[row]!, 0)
  const chiSquare = Math.max(0, statistic)
  return { chiSquare, degreesOfFreedom: rows, p: chiSquareUpper(chiSquare, rows) }
}

function paceOf(lives: readonly Lives[]): Pace {
  const failed = together(lives.map((one) => one.failed))
  const all = together(lives.map((one) => one.all))
  const times = failed.filter((at, index) => at !== failed[index - 1])
  const expected = new Float64Array(times.length)
  const variance = new Float64Array(times.length)
  let gone = 0
  let next = 0
  times.forEach((at, index) => {
    let failures = 0
    for (; failed[next] === at; next++) failures++
    while (all[gone]! < at) gone++
    const atRisk = all.length - gone
    expected[index] = (expected[index - 1] ?? 0) + failures / atRisk
    // A last one alone is sure to be the one that fails.
    const spread = atRisk === 1 ? 0 : (failures * (atRisk - failures)) / (atRisk - 1) / atRisk ** 2
    variance[index] = (variance[index - 1] ?? 0) + spread
  })
  return { times, expected, variance }
}

function together(lists: readonly Float64Array[]): Float64Array {
  const joined = new Float64Array(lists.reduce((length, list) => length + list.length, 0))
  let at = 0
  for (const list of lists) {
    joined.set(list, at)
    at += list.length
  }
  return joined.sort()
}

/** For each member, in rising order, how many failure times it met. */
function timesPassed(all: Float64Array, times: Float64Array): Uint32Array {
  const passed = new Uint32Array(all.length)
  let met = 0
  for (let member = 0; member < all.length; member++) {
    while (times[met]! <= all[member]!) met++
    passed[member] = met
  }
  return passed
}

function expectedBy(passed: Uint32Array, expected: Float64Array): number {
  return passed.reduce((sum, met) => (met === 0 ? sum : sum + expected[met - 1]!), 0)
}

/** All groups but the last. A row of the full square adds up to 0, so that the diagonal needs no sum of its own. */
function covariance(passed: readonly Uint32Array[], variance: Float64Array): number[] {
  const shared = sharedByPairs(passed, variance)
  const groups = passed.length
  const rows = groups - 1
  const matrix = new Array<number>(rows * rows).fill(0)
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < groups; column++) {
      if (column === row) continue
      const both = shared[row * groups + column]! + shared[column * groups + row]!
      matrix[row * rows + row]! += both
      if (column < rows) matrix[row * rows + column] = -both
    }
  }
  return matrix
}

/** Σ of the lesser variance over pairs of members of two groups, in the row of the group whose member leaves first. */
function sharedByPairs(passed: readonly Uint32Array[], variance: Float64Array): Float64Array {
  const groups = passed.length
  const { order, ends } = inOrder(passed, variance.length)
  const left = Float64Array.from(passed, (members) => members.length)
  const shared = new Float64Array(groups * groups)
  let next = 0
  for (let met = 0; met < ends.length; met++) {
    const end = ends[met]!
    const lesser = met === 0 ? 0 : variance[met - 1]!
    for (; next < end; next++) {
      const group = order[next]!
      left[group]!--
      const row = group * groups
      for (let other = 0; other < groups; other++) shared[row + other]! += lesser * left[other]!
    }
  }
  return shared
}

/** The group of each member, all members sorted by how many failure times they met; ends: where those with 0, 1, 2 … end. */
function inOrder(passed: readonly Uint32Array[], times: number): { order: Uint16Array; ends: Uint32Array } {
  const ends = new Uint32Array(times + 1)
  for (const members of passed) for (const met of members) ends[met]!++
  for (let met = 1; met <= times; met++) ends[met]! += ends[met - 1]!
  const order = new Uint16Array(ends[times]!)
  const places = Uint32Array.from(ends)
  passed.forEach((members, group) => {
    for (const met of members) order[--places[met]!] = group
  })
  return { order, ends }
}
