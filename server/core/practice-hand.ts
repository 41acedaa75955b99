import { faultDoubt } from '#core/bench/move-told.ts'
import {
  PRACTICE_LIMIT_MM,
  PRACTICE_WORTH_MM,
  type PracticeCrank,
  type PracticeReading,
  practiceWorstMm,
  readPractice,
} from '#core/practice-crank.ts'
import { afterRim, PRACTICE_BLOWS, PRACTICE_PRESSES, type PracticeMove, practiceRimMm, USUAL_RIM_MM } from '#core/practice-move.ts'
import { type TruingOnSupports, truingOnSupports } from '#core/truing.ts'
import type { Faults } from '#core/truing-faults.ts'
import type { TruingMove } from '#core/truing-moves.ts'

/** What came of a crank under a good hand. */
export interface GoodHand {
  moves: PracticeMove[]
  /** Undefined where it came to no end within the moves allowed. */
  called: 'true' | 'no-hand' | undefined
  worstMm: number
}

export const PRACTICE_MOVES_MOST = 60
/** As full swing, what four marks of 0.001 cannot tell from nothing. */
const DOUBT_MM = 0.002

/** A move of this hand and how far the rim seems to have gone by the readings; 0: nothing that they could tell. */
interface Seen {
  move: PracticeMove
  rimMm: number
}

/**
 * A good hand on the same crank with the same luck: it reads, does what the book advises, and picks the blow by what its
 * own blows have done here: the hardest that does not usually go past, and never again one that has only stuck.
 *
 * The faults are worked from the readings alone. Source: the advice of `truing`; the choice of the blow: common practice.
 */
export function goodHand(seed: number, crank: PracticeCrank, movesMost = PRACTICE_MOVES_MOST): GoodHand {
  let faults = crank.faults
  let before: Faults | undefined
  const moves: PracticeMove[] = []
  const seen: Seen[] = []
  for (;;) {
    const sum = sumOf(crank, readPractice(seed, crank, faults, moves.length))
    const last = moves.at(-1)
    if (before !== undefined && last !== undefined) seen.push({ move: last, rimMm: rimSeen(crank, last, before, sum.faults) })
    before = sum.faults
    const called = callOf(sum)
    const advised = sum.moves[0]
    if (called !== undefined || advised === undefined || moves.length >= movesMost)
      return { moves, called, worstMm: practiceWorstMm(faults, crank.setUp) }
    const move = moveFor(advised, seen)
    faults = afterRim(faults, crank, move, practiceRimMm(seed, crank, move, moves.length))
    moves.push(move)
  }
}

function sumOf(crank: PracticeCrank, { marks }: PracticeReading): TruingOnSupports {
  const sum = truingOnSupports({
    ...crank.setUp,
    strokeMm: crank.strokeMm,
    rimRadiusMm: crank.rimRadiusMm,
    left: { readings: marks.map(({ atDeg, leftMm }) => ({ clockDeg: atDeg, mm: leftMm })) },
    right: { readings: marks.map(({ atDeg, rightMm }) => ({ clockDeg: atDeg, mm: rightMm })) },
    limitTirMm: PRACTICE_LIMIT_MM,
    readingDoubtMm: DOUBT_MM,
  })
  if (!sum.ok) throw new RangeError(`goodHand needs readings that can be worked: ${sum.detail}`)
  return sum.value
}

function callOf({ verdict, moves }: TruingOnSupports): GoodHand['called'] {
  if (verdict === 'throw' || verdict === 'cocked') return 'no-hand'
  return verdict === 'true' || moves[0]?.action === 'leave' ? 'true' : undefined
}

function rimSeen(crank: PracticeCrank, move: PracticeMove, before: Faults, after: Faults): number {
  const tells = faultDoubt(crank.setUp, { leftMm: PRACTICE_WORTH_MM, rightMm: PRACTICE_WORTH_MM })
  if (move.action === 'strike') {
    const gone = Math.abs(after.swingMm - before.swingMm)
    const throwRadius = crank.strokeMm / 2
    return gone <= tells.swingMm ? 0 : (gone * (crank.rimRadiusMm + throwRadius)) / throwRadius
  }
  const gone = Math.abs(after.openRad - before.openRad)
  return gone <= tells.openRad ? 0 : gone * 2 * crank.rimRadiusMm
}

function moveFor(advised: TruingMove, seen: readonly Seen[]): PracticeMove {
  if (advised.action === 'strike') {
    const how = strengthFor(PRACTICE_BLOWS, advised.amountMm, seen)
    return { action: 'strike', half: advised.half ?? 'right', atDeg: advised.atDeg ?? 90, how }
  }
  const how = strengthFor(PRACTICE_PRESSES, advised.amountMm, seen)
  return { action: advised.action === 'wedge' ? 'wedge' : 'squeeze', how }
}

/** The hardest that does not usually go past what is wanted, among those that have not only stuck; else the softest of these. */
function strengthFor<How extends PracticeMove['how']>(strengths: readonly How[], wantedMm: number, seen: readonly Seen[]): How {
  const live = strengths.filter((how) => {
    const rims = seen.filter(({ move }) => move.how === how).map(({ rimMm }) => rimMm)
    return rims.length === 0 || rims.some((rimMm) => rimMm > 0)
  })
  const hardest = strengths.at(-1) as How
  return live.findLast((how) => usualOf(how, seen) <= wantedMm) ?? live[0] ?? hardest
}

/** Geometric mean of what this strength has done here, with the usual distance as one blow among them. */
function usualOf(how: PracticeMove['how'], seen: readonly Seen[]): number {
  const logs = seen.filter(({ move, rimMm }) => move.how === how && rimMm > 0).map(({ rimMm }) => Math.log(rimMm))
  return Math.exp((logs.reduce((sum, log) => sum + log, 0) + Math.log(USUAL_RIM_MM[how])) / (logs.length + 1))
}
