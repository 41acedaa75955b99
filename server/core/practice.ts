import { needWhole } from '#core/limits.ts'
import {
  dealPractice,
  PRACTICE_LIMIT_MM,
  PRACTICE_WORTH_MM,
  type PracticeCrank,
  type PracticeLevel,
  type PracticeReading,
  practiceBestMm,
  practiceWorstMm,
  readPractice,
} from '#core/practice-crank.ts'
import { type GoodHand, goodHand, PRACTICE_MOVES_MOST } from '#core/practice-hand.ts'
import { afterRim, isWrongWay, type PracticeMove, practiceRimMm } from '#core/practice-move.ts'
import { isWithin } from '#core/runout-verdict.ts'
import { bestReachable } from '#core/truing-best.ts'
import type { Faults } from '#core/truing-faults.ts'

export const PRACTICE_CALLS = ['true', 'no-hand', 'left'] as const
/** How a crank was put down: called true, called one that no hand cures, or left without a call. */
export type PracticeCall = (typeof PRACTICE_CALLS)[number]

/** A move with what the learner said before it that the ends would swing after it. */
export interface PracticeStep {
  move: PracticeMove
  said: { leftTirMm: number; rightTirMm: number }
}

/** A whole run worked again: `readings` and `states` have one more than there are moves. */
export interface PracticePlayed {
  crank: PracticeCrank
  states: Faults[]
  readings: PracticeReading[]
  /** How far the rim went under each move, mm; 0 where the joint stuck. */
  rimMm: number[]
}

/** What a run is worth, figure by figure; never put together into one. */
export interface PracticeScore {
  /** Greater full swing that it has in truth, and the best that a hand could reach, mm. */
  worstMm: number
  bestMm: number
  calledRight: boolean
  moves: number
  goodMoves: number
  /** Mean distance of what was said before each move from what came, mm; absent where no move was made. */
  saidOffMm?: number
  /** The same for saying each time that nothing will move. */
  unchangedOffMm?: number
  /** Moves aimed away from the best reachable. */
  wrongWay: number
}

const SEED = { min: 0, max: 0xffffffff }

/**
 * A practice run from its seed, its level and the list of its moves. Pure: the same three give the same run everywhere.
 *
 * Refuses (RangeError) a seed that is not a whole number from 0 to 2³² − 1, and over sixty moves.
 *
 * @example playPractice(318, 'one', []).readings.length // 1
 */
export function playPractice(seed: number, level: PracticeLevel, moves: readonly PracticeMove[]): PracticePlayed {
  needWhole('playPractice', 'seed', seed, SEED)
  if (moves.length > PRACTICE_MOVES_MOST) throw new RangeError(`playPractice needs no more than ${PRACTICE_MOVES_MOST} moves`)
  const crank = dealPractice(seed, level)
  const states = [crank.faults]
  const rimMm: number[] = []
  let faults = crank.faults
  for (const [number, move] of moves.entries()) {
    const gone = practiceRimMm(seed, crank, move, number)
    faults = afterRim(faults, crank, move, gone)
    rimMm.push(gone)
    states.push(faults)
  }
  return { crank, states, rimMm, readings: states.map((state, number) => readPractice(seed, crank, state, number)) }
}

/**
 * What came of a run: how true it is against the best that could be reached, moves against those of a good hand on the
 * same crank with the same luck, how near the learner said each move's outcome, moves the wrong way, and whether the call
 * was right. True is right within the limit and what the dials are worth; that no hand cures it is right where the best
 * reachable lies over the limit; leaving it is never right.
 *
 * Source: the forward model of truing-faults.ts; the rules of the score: common practice, no source.
 *
 * @example scorePractice(318, 'one', [], 'left').calledRight // false
 */
export function scorePractice(
  seed: number,
  level: PracticeLevel,
  steps: readonly PracticeStep[],
  called: PracticeCall,
  good: GoodHand = goodHand(seed, dealPractice(seed, level)),
): PracticeScore {
  const { crank, states, readings } = playPractice(
    seed,
    level,
    steps.map(({ move }) => move),
  )
  const best = bestReachable(crank.faults, crank.setUp)
  const bestMm = practiceBestMm(crank.faults, crank.setUp)
  const worstMm = practiceWorstMm(states.at(-1) ?? crank.faults, crank.setUp)
  const saidOff: number[] = []
  const unchangedOff: number[] = []
  let wrongWay = 0
  for (const [number, { move, said }] of steps.entries()) {
    const [state, before, came] = [states[number], readings[number], readings[number + 1]]
    if (state === undefined || before === undefined || came === undefined) continue
    if (isWrongWay(state, best, crank.setUp, move, PRACTICE_WORTH_MM)) wrongWay++
    saidOff.push(Math.abs(said.leftTirMm - came.left.tirMm), Math.abs(said.rightTirMm - came.right.tirMm))
    unchangedOff.push(Math.abs(before.left.tirMm - came.left.tirMm), Math.abs(before.right.tirMm - came.right.tirMm))
  }
  return {
    worstMm,
    bestMm,
    calledRight: isCalledRight(called, worstMm, bestMm),
    moves: steps.length,
    goodMoves: good.moves.length,
    ...(saidOff.length === 0 ? {} : { saidOffMm: meanOf(saidOff), unchangedOffMm: meanOf(unchangedOff) }),
    wrongWay,
  }
}

function isCalledRight(called: PracticeCall, worstMm: number, bestMm: number): boolean {
  if (called === 'true') return isWithin(worstMm, PRACTICE_LIMIT_MM + PRACTICE_WORTH_MM)
  return called === 'no-hand' && !isWithin(bestMm, PRACTICE_LIMIT_MM)
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}
