import { type Random, seededRandom } from '#core/numeric/random.ts'
import { bestReachable } from '#core/truing-best.ts'
import type { Faults, SetUp } from '#core/truing-faults.ts'
import type { TruingMove } from '#core/truing-moves.ts'
import { afterMove, crankWith, fullSwings, type RigidCrank, readAt } from './rigid-crank.ts'

/**
 * A hand at the truing bench, on the three-dimensional crank of rigid-crank.ts: it reads four marks with noise, asks a rule
 * for the next move, and the joint does with the blow what it likes. Two rules met with the same crank and the same seed
 * meet the same luck: the n-th reading and the n-th move of a crank draw from runs of their own.
 */
export interface Case {
  faults: Faults
  setUp: SetUp
  strokeMm: number
  rimRadiusMm: number
  seed: number
}

export interface Reading {
  left: { clockDeg: number; mm: number }[]
  right: { clockDeg: number; mm: number }[]
}

/** What a rule says of a reading: true, a move, or that no hand will cure it. */
export type Saying = { says: 'true' } | { says: 'not-by-hand' } | { says: 'move'; move: TruingMove }
export type Rule = (reading: Reading, one: Case) => Saying

export interface Outcome {
  /** The rule called it true, and the crank is: full swing of both ends by the exact crank. */
  broughtIn: boolean
  moves: number
  /** At which reading the rule said that no hand will cure it; null when it never did. */
  namedAt: number | null
  worstMm: number
}

export const LIMIT_MM = 0.03
const NOISE_MM = 0.001
const MARKS = [0, 90, 180, 270]
const NOTHING_MOVED = 0.3
const SPREAD = 0.5
/** A crank read true may stand over the limit by what the readings are worth: four marks, 0.001 each, at both ends. */
const READING_WORTH_MM = 0.003

export const AS_COMMON = { swingMm: 0.2, openRad: 0.003, throwMm: 0.005, cockedRad: 0.00015 }

export function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}

function between(low: number, high: number, random: Random): number {
  return low + (high - low) * random()
}

/** A crank and set-up at random: the sizes of singles on V-blocks with dials outboard, or between centres with dials inboard. */
export function drawCase(seed: number, sd: Faults = AS_COMMON, on: 'blocks' | 'centres' = 'blocks'): Case {
  const random = seededRandom(seed)
  const strokeMm = between(39, 86, random)
  const setUp = on === 'blocks' ? onBlocks(random) : onCentres(random)
  const faults = {
    swingMm: sd.swingMm * normal(random),
    openRad: sd.openRad * normal(random),
    throwMm: sd.throwMm * normal(random),
    cockedRad: sd.cockedRad * normal(random),
  }
  return { faults, setUp, strokeMm, rimRadiusMm: strokeMm / 2 + between(14, 30, random), seed }
}

function onBlocks(random: Random): SetUp {
  return {
    supportLeftMm: between(27, 54, random),
    supportRightMm: between(27, 54, random),
    dialLeftMm: between(27, 52, random),
    dialRightMm: between(26, 62, random),
  }
}

/** Centres at the ends of the shafts, dials on the main seats. */
function onCentres(random: Random): SetUp {
  return {
    supportLeftMm: between(85, 120, random),
    supportRightMm: between(90, 130, random),
    dialLeftMm: -between(40, 65, random),
    dialRightMm: -between(40, 70, random),
  }
}

/** The worse end's full swing that blows and wedges can still reach, as a share of the limit. */
export function reachOf(one: Case): number {
  const best = bestReachable(one.faults, one.setUp)
  return Math.max(best.leftTirMm, best.rightTirMm) / LIMIT_MM
}

function read(crank: RigidCrank, one: Case, reading: number): Reading {
  const random = seededRandom(one.seed * 1000 + reading)
  const { left, right } = readAt(crank, one.setUp, MARKS)
  const noisy = (end: number[]) => end.map((mm, index) => ({ clockDeg: MARKS[index]!, mm: mm + NOISE_MM * normal(random) }))
  return { left: noisy(left), right: noisy(right) }
}

/** Three moves in ten do nothing; the others go as far as meant, times a lognormal factor. */
function made(crank: RigidCrank, move: TruingMove, one: Case, count: number): RigidCrank {
  const random = seededRandom(one.seed * 1000 + 500 + count)
  if (random() < NOTHING_MOVED) return crank
  return afterMove(crank, { ...move, amountMm: move.amountMm * Math.exp(SPREAD * normal(random)) }, one.rimRadiusMm)
}

/** Works one crank by a rule, at most so many moves. */
export function work(one: Case, rule: Rule, movesMost = 60): Outcome {
  let crank = crankWith(one.faults, one.strokeMm)
  for (let moves = 0; ; moves++) {
    const saying = rule(read(crank, one, moves), one)
    if (saying.says === 'move' && moves < movesMost) {
      crank = made(crank, saying.move, one, moves)
      continue
    }
    const { left, right } = fullSwings(crank, one.setUp)
    const worstMm = Math.max(left, right)
    const namedAt = saying.says === 'not-by-hand' ? moves + 1 : null
    return { broughtIn: saying.says === 'true' && worstMm <= LIMIT_MM + READING_WORTH_MM, moves, namedAt, worstMm }
  }
}

/** The value that so great a share stays at or below (Hyndman and Fan 1996, type 1). */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((one, other) => one - other)
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!
}
