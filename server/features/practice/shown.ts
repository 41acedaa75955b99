import type { PracticeRun } from '#contract/practice.ts'
import { playPractice, scorePractice } from '#core/practice.ts'
import { PRACTICE_LIMIT_MM, PRACTICE_STEP_MM, PRACTICE_WORTH_MM } from '#core/practice-crank.ts'
import { goodHand } from '#core/practice-hand.ts'
import { isWrongWay } from '#core/practice-move.ts'
import { isWithin } from '#core/runout-verdict.ts'
import { bestReachable } from '#core/truing-best.ts'
import type { KeptRun } from './store.ts'

/** A run as its learner may see it, worked again from its seed and its moves: no fault of it before it is put down. */
export function shownRun(run: KeptRun): PracticeRun {
  const { id, personId, by, level, startedAt, endedAt, steps } = run
  const played = playPractice(
    run.seed,
    level,
    steps.map(({ move }) => move),
  )
  const { strokeMm, rimRadiusMm, on, setUp } = played.crank
  const result = resultOf(run, played)
  return {
    id,
    personId,
    by,
    level,
    startedAt,
    ...(endedAt === null ? {} : { endedAt }),
    crank: { strokeMm, rimRadiusMm, held: on === 'centres' ? 'centres' : 'v-blocks-bare', ...setUp },
    limitMm: PRACTICE_LIMIT_MM,
    stepMm: PRACTICE_STEP_MM,
    worthMm: PRACTICE_WORTH_MM,
    readings: played.readings,
    moves: steps,
    ...(result === undefined ? {} : { result }),
  }
}

function resultOf({ seed, level, steps, called }: KeptRun, played: ReturnType<typeof playPractice>): PracticeRun['result'] {
  if (called === null) return undefined
  const { crank, states, rimMm } = played
  const best = bestReachable(crank.faults, crank.setUp)
  const good = goodHand(seed, crank)
  return {
    called,
    score: scorePractice(seed, level, steps, called, good),
    faultsAtStart: crank.faults,
    faultsAtEnd: states.at(-1) ?? crank.faults,
    best: { leftTirMm: best.leftTirMm, rightTirMm: best.rightTirMm },
    curable: isWithin(Math.max(best.leftTirMm, best.rightTirMm), PRACTICE_LIMIT_MM),
    moves: steps.map(({ move }, number) => ({
      rimMm: rimMm[number] ?? 0,
      wrongWay: isWrongWay(states[number] ?? crank.faults, best, crank.setUp, move, PRACTICE_WORTH_MM),
    })),
    good: { moves: good.moves, worstMm: good.worstMm, ...(good.called === undefined ? {} : { called: good.called }) },
  }
}
