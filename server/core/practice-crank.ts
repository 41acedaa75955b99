import { type Random, seededRandom } from '#core/numeric/random.ts'
import { fitRoundATurn } from '#core/readings-round-a-turn.ts'
import { bestReachable } from '#core/truing-best.ts'
import { dialAt, type EndReading, endOf, type Faults, readingsFrom, type SetUp } from '#core/truing-faults.ts'

/** What may be wrong with a practice crank. At the last level a hand cannot cure every one, and nobody is told which. */
export const PRACTICE_LEVELS = ['one', 'two', 'four', 'perhaps-none'] as const
export type PracticeLevel = (typeof PRACTICE_LEVELS)[number]

/** Full swing that is allowed at each end of a practice crank, mm. Invented for practice. */
export const PRACTICE_LIMIT_MM = 0.03
/** The practice dials. */
export const PRACTICE_STEP_MM = 0.001
/** What a full swing read by them is worth, mm: the usual figure of such a dial on bare seats. */
export const PRACTICE_WORTH_MM = 0.005

/** A made-up crank. Sizes and set-up are told to whoever practises; faults and the joint are not. */
export interface PracticeCrank {
  strokeMm: number
  rimRadiusMm: number
  on: 'v-blocks' | 'centres'
  setUp: SetUp
  faults: Faults
  joint: PracticeJoint
}

export interface PracticeJoint {
  /** Below this nothing moves: what the blow would carry the rim opposite the pin if it did not stick, mm. */
  breakAwayMm: number
  /** How easily it goes once it goes; 1 is the usual crank. */
  ease: number
}

/** Both ends with each mark brought under the dials, set to 0 at 12, and 12 once more. */
export interface PracticeReading {
  marks: { atDeg: number; leftMm: number; rightMm: number }[]
  left: EndReading
  right: EndReading
}

const NOISE_MM = 0.001
/** Degrees clockwise from the pin; 12 again at the end. */
const MARKS = [0, 90, 180, 270, 0] as const
/** What blows and wedges can still reach, as a share of the limit: well inside it, or well past it. */
const CURABLE = [0.2, 0.8] as const
const NOT_CURABLE = [1.35, 2.2] as const
const NOT_CURABLE_SHARE = 0.6

/**
 * Chance for one thing of one practice crank: the dealing, the luck of a move by its number, the noise of a reading by its
 * number. The same every time, whatever was done before, so that two hands on one crank meet the same luck.
 *
 * @example practiceChance(7, 'luck', 3)() === practiceChance(7, 'luck', 3)() // true
 */
export function practiceChance(seed: number, what: 'deal' | 'luck' | 'noise', number = 0): Random {
  const stream = number * 3 + { deal: 0, luck: 1, noise: 2 }[what]
  return seededRandom((Math.imul(seed, 0x9e3779b1) + stream) >>> 0)
}

/**
 * A number from the normal distribution with mean 0 and standard deviation 1. Source: Box and Muller (1958), A note on the
 * generation of random normal deviates.
 *
 * @example normalFrom(() => 0) // 0
 */
export function normalFrom(random: Random): number {
  // -0 where the first draw is 0 would be another 0.
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random()) + 0
}

/**
 * A made-up crank: set-up, sizes, faults and how its joint sticks, all from a whole seed of 0 to 2³² − 1 and a level.
 * Level `one` has a swing or an opening and lies on V-blocks, `two` has both, `four` has throw and cock besides but can be
 * brought in, `perhaps-none` cannot be brought in three times in five. From `two` on it may lie between centres, where
 * what a dial reads has the other sign.
 *
 * Lengths mm, angles radians. Sizes: those of common singles, invented for practice; no source.
 *
 * @example dealPractice(318, 'one').faults.throwMm // 0
 */
export function dealPractice(seed: number, level: PracticeLevel): PracticeCrank {
  const random = practiceChance(seed, 'deal')
  const strokeMm = whole(44, 86, random)
  const rimRadiusMm = Math.round(strokeMm / 2) + whole(14, 28, random)
  const on = random() < 0.3 && level !== 'one' ? 'centres' : 'v-blocks'
  const setUp = on === 'centres' ? betweenCentres(random) : onBlocks(random)
  const hasBoth = level !== 'one'
  const isSwing = random() < 0.5
  const swingMm = hasBoth || isSwing ? eitherWay(0.12, 0.35, random) : 0
  const openRad = hasBoth || !isSwing ? eitherWay(0.0018, 0.005, random) : 0
  const joint = { breakAwayMm: 0.03 * (0.1 / 0.03) ** random(), ease: Math.exp(0.2 * normalFrom(random)) }
  const handless = level === 'four' || level === 'perhaps-none' ? handlessFaults(level, setUp, random) : { throwMm: 0, cockedRad: 0 }
  return { strokeMm, rimRadiusMm, on, setUp, faults: { swingMm, openRad, ...handless }, joint }
}

/** Throw and cock at a mixture drawn by chance, as large as makes the best reachable so great a share of the limit. */
function handlessFaults(level: PracticeLevel, setUp: SetUp, random: Random): Pick<Faults, 'throwMm' | 'cockedRad'> {
  const cannot = level === 'perhaps-none' && random() < NOT_CURABLE_SHARE
  const [least, most] = cannot ? NOT_CURABLE : CURABLE
  const share = between(least, most, random)
  const mix = between(0, 2 * Math.PI, random)
  const like = { throwMm: 0.01 * Math.cos(mix), cockedRad: 0.0003 * Math.sin(mix) }
  const scale = (share * PRACTICE_LIMIT_MM) / practiceBestMm(like, setUp)
  return { throwMm: scale * like.throwMm, cockedRad: scale * like.cockedRad }
}

/** The greater full swing that is left when swing and opening stand as well as they can, mm. */
export function practiceBestMm(faults: Pick<Faults, 'throwMm' | 'cockedRad'>, setUp: SetUp): number {
  const best = bestReachable(faults, setUp)
  return Math.max(best.leftTirMm, best.rightTirMm)
}

/** The greater full swing of the two ends, by the forward model and without noise, mm. */
export function practiceWorstMm(faults: Faults, setUp: SetUp): number {
  const ends = readingsFrom(faults, setUp)
  return Math.max(endOf(ends.left).tirMm, endOf(ends.right).tirMm)
}

/**
 * What both dials read of a practice crank, by the forward model with a noise of 0.001 mm at each mark. The number of the
 * reading is how many moves were made before it.
 */
export function readPractice(seed: number, crank: PracticeCrank, faults: Faults, number: number): PracticeReading {
  const random = practiceChance(seed, 'noise', number)
  const arrows = readingsFrom(faults, crank.setUp)
  const read = (side: 'left' | 'right') => {
    const raw = MARKS.map((deg) => dialAt(arrows[side], deg) + NOISE_MM * normalFrom(random))
    const zero = raw[0] ?? 0
    return raw.map((mm) => Math.round((mm - zero) / PRACTICE_STEP_MM) * PRACTICE_STEP_MM)
  }
  const left = read('left')
  const right = read('right')
  const marks = MARKS.map((atDeg, place) => ({ atDeg, leftMm: clean(left[place]), rightMm: clean(right[place]) }))
  const end = (of: (mark: (typeof marks)[number]) => number) => {
    const turn = fitRoundATurn(marks.map((mark) => ({ clockDeg: mark.atDeg, mm: of(mark) })))
    if (!turn.ok) throw new RangeError(`readPractice needs marks that can be fitted: ${turn.detail}`)
    return endOf(turn.value)
  }
  return { marks, left: end((mark) => mark.leftMm), right: end((mark) => mark.rightMm) }
}

/** By the digits of the dial, and never −0. */
function clean(mm: number | undefined): number {
  return Number((mm ?? 0).toFixed(3)) + 0
}

function onBlocks(random: Random): SetUp {
  return {
    supportLeftMm: whole(28, 54, random),
    supportRightMm: whole(28, 54, random),
    dialLeftMm: whole(30, 52, random),
    dialRightMm: whole(30, 60, random),
  }
}

/** Centres in the ends of the shafts, dials on the main seats. */
function betweenCentres(random: Random): SetUp {
  const supportLeftMm = whole(85, 120, random)
  const supportRightMm = whole(90, 130, random)
  const seats = { left: whole(30, 45, random), right: whole(30, 50, random) }
  return { supportLeftMm, supportRightMm, dialLeftMm: seats.left - supportLeftMm, dialRightMm: seats.right - supportRightMm }
}

function eitherWay(low: number, high: number, random: Random): number {
  return (random() < 0.5 ? -1 : 1) * between(low, high, random)
}
function whole(low: number, high: number, random: Random): number {
  return Math.round(between(low, high, random))
}
function between(low: number, high: number, random: Random): number {
  return low + (high - low) * random()
}
