import { type Answer, answered } from '#core/answer.ts'
import { wrapDegrees } from '#core/clock-angle.ts'
import { BINARY_DUST_MM, DIAL_DISTANCE_MM, needWithin, RIM_RADIUS_MM, STROKE_MM, SUPPORT_MM, TIR_MM } from '#core/limits.ts'
import { fitRoundATurn, type MarkReading } from '#core/readings-round-a-turn.ts'
import { type BestReachable, bestReachable, type EndLimits } from '#core/truing-best.ts'
import { type Arrow, arrowOf, type EndReading, endOf, type Faults, faultsFrom, type SetUp } from '#core/truing-faults.ts'
import {
  type Half,
  hurtsOf,
  LEAVE_DOUBT,
  leave,
  movesFor,
  strike,
  type TruingMove,
  type TruingVerdict,
  verdictOf,
} from '#core/truing-moves.ts'

/** What was read at one end: either single readings, or a full swing with its high spot. */
export interface EndRead {
  readings?: readonly MarkReading[] | undefined
  tirMm?: number | undefined
  highAtDeg?: number | undefined
}

export interface TruingInput {
  strokeMm: number
  /** Supports and dials as in `SetUp`; the held end's may be absent when one main is held true. */
  supportLeftMm?: number | undefined
  supportRightMm?: number | undefined
  dialLeftMm?: number | undefined
  dialRightMm?: number | undefined
  left?: EndRead | undefined
  right?: EndRead | undefined
  /** `both` unless said: both shafts rest in their supports. `left` or `right`: that main is held true, in a lathe. */
  held?: 'both' | 'left' | 'right' | undefined
  limitTirMm?: number | EndLimits | undefined
  /** Crank centre of the web to the rim; half the stroke and 20 unless said. */
  rimRadiusMm?: number | undefined
  /** What these dials cannot tell from nothing, as a full swing; 0 unless said. */
  readingDoubtMm?: number | undefined
}

/** What is answered for one end. */
export interface EndAnswer extends EndReading {
  /** Root mean square of what the fit leaves; absent where a full swing was given. */
  residualMm?: number
}

const METHOD = { name: 'rigid halves, first harmonic by least squares', version: '1' } as const
export type TruingMethod = typeof METHOD

/** The answer for a crank that rests in both supports. */
export interface TruingOnSupports {
  left: EndAnswer
  right: EndAnswer
  faults: Faults
  verdict: TruingVerdict
  bestReachable: BestReachable
  moves: TruingMove[]
  method: TruingMethod
}

/** The answer for a crank with one main held true: only the swing can be told, if the pin is not cocked. */
export interface TruingHeld {
  left?: EndAnswer
  right?: EndAnswer
  faults: { swingMm: number }
  verdict: 'swing'
  moves: TruingMove[]
  method: TruingMethod
}

const SUM = 'truing'

/**
 * From what two dials read over a turn to what is wrong with the crank, what can still be reached, and the next move.
 *
 * @example truing({ strokeMm: 72, supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52, left: { tirMm: 0.09, highAtDeg: 90 }, right: { tirMm: 0.104, highAtDeg: 270 } }).value.moves[0].atDeg // 90
 *
 * Lengths mm: stroke 10–300, supports and |dials| 1–1000 (never 0), readings within ±50, full swing 0–20, rim radius
 * 5–500. Refuses fewer than three different marks at an end and marks too close together. With one main held true only
 * the other end is read and only the swing is answered. Supports, dials and signs as in truing-faults.ts.
 * Source: geometry of two straight shafts, see `faultsFrom`, `bestReachable`; order of the moves: common practice, no source.
 */
export function truing(input: TruingInput): Answer<TruingOnSupports | TruingHeld> {
  const held = input.held ?? 'both'
  if (held === 'both') return truingOnSupports(input)
  return truingHeld(input, held)
}

/** `truing` for a crank that rests in both supports. */
export function truingOnSupports(input: TruingInput): Answer<TruingOnSupports> {
  const sizes = sizesOf(input)
  const setUp = setUpOf(input)
  const left = readEnd(input.left, 'left')
  if (!left.ok) return left
  const right = readEnd(input.right, 'right')
  if (!right.ok) return right
  const limits = limitsOf(input.limitTirMm)

  const faults = faultsFrom(left.value.arrow, right.value.arrow, setUp)
  const best = bestReachable(faults, setUp, limits)
  const hurts = hurtsOf(faults, best, setUp)
  const ends = { leftTirMm: left.value.end.tirMm, rightTirMm: right.value.end.tirMm }
  const verdict = verdictOf(ends, faults, best, hurts, setUp, limits)
  return answered({
    left: left.value.end,
    right: right.value.end,
    faults,
    verdict,
    bestReachable: best,
    moves: movesFor(verdict, hurts, sizes, doubtOf(input)),
    method: METHOD,
  })
}

/**
 * `truing` for one main held true, in a lathe: the dial on the other main reads twice the swing straight. A cocked pin
 * would read the same there, so that the answer holds only if the pin is not cocked.
 */
export function truingHeld(input: TruingInput, held: Half): Answer<TruingHeld> {
  const sizes = sizesOf(input)
  const free = held === 'left' ? 'right' : 'left'
  const support = free === 'left' ? input.supportLeftMm : input.supportRightMm
  needWithin(SUM, `the support on the ${free}`, support, SUPPORT_MM)
  needDial(free, free === 'left' ? input.dialLeftMm : input.dialRightMm)
  const read = readEnd(free === 'left' ? input.left : input.right, free)
  if (!read.ok) return read

  const swingMm = free === 'right' ? read.value.arrow.tangentialMm : 0 - read.value.arrow.tangentialMm
  const small = 2 * Math.abs(swingMm) <= Math.max(doubtOf(input), BINARY_DUST_MM)
  const move = small ? leave(LEAVE_DOUBT) : strike(free, swingMm, sizes)
  const moves = [{ ...move, say: `${move.say} This is the swing, if the pin is not cocked.` }]
  const rest = { faults: { swingMm }, verdict: 'swing', moves, method: METHOD } as const
  return answered(free === 'left' ? { left: read.value.end, ...rest } : { right: read.value.end, ...rest })
}

function sizesOf(input: TruingInput): { strokeMm: number; rimRadiusMm: number } {
  const { strokeMm } = input
  needWithin(SUM, 'strokeMm', strokeMm, STROKE_MM)
  const rimRadiusMm = input.rimRadiusMm ?? strokeMm / 2 + 20
  needWithin(SUM, 'rimRadiusMm', rimRadiusMm, RIM_RADIUS_MM)
  return { strokeMm, rimRadiusMm }
}

function setUpOf(input: TruingInput): SetUp {
  const { supportLeftMm, supportRightMm, dialLeftMm, dialRightMm } = input
  needWithin(SUM, 'supportLeftMm', supportLeftMm, SUPPORT_MM)
  needWithin(SUM, 'supportRightMm', supportRightMm, SUPPORT_MM)
  needDial('left', dialLeftMm)
  needDial('right', dialRightMm)
  return { supportLeftMm, supportRightMm, dialLeftMm, dialRightMm }
}

function needDial(end: Half, dialMm: number | undefined): asserts dialMm is number {
  needWithin(SUM, `the ${end} dial's distance`, dialMm === undefined ? dialMm : Math.abs(dialMm), DIAL_DISTANCE_MM)
}

function readEnd(read: EndRead | undefined, end: Half): Answer<{ arrow: Arrow; end: EndAnswer }> {
  const { readings, tirMm, highAtDeg } = read ?? {}
  if (readings !== undefined && tirMm === undefined && highAtDeg === undefined) {
    const turn = fitRoundATurn(readings)
    if (!turn.ok) return { ...turn, detail: `${end === 'left' ? 'Left' : 'Right'} end: ${turn.detail}` }
    return answered({ arrow: turn.value, end: { ...endOf(turn.value), residualMm: turn.value.residualMm } })
  }
  if (readings !== undefined || highAtDeg === undefined)
    throw new RangeError(`${SUM} needs either readings or tirMm and highAtDeg at the ${end} end`)
  needWithin(SUM, `tirMm at the ${end} end`, tirMm, TIR_MM)
  if (!Number.isFinite(highAtDeg)) throw new RangeError(`${SUM} needs a finite highAtDeg at the ${end} end`)
  const given = { tirMm, highAtDeg: tirMm === 0 ? 0 : wrapDegrees(highAtDeg) }
  return answered({ arrow: arrowOf(given), end: given })
}

function limitsOf(limit: number | EndLimits | undefined): EndLimits | undefined {
  if (limit === undefined) return undefined
  const limits = typeof limit === 'number' ? { leftMm: limit, rightMm: limit } : limit
  needWithin(SUM, 'the left limit', limits.leftMm, TIR_MM)
  needWithin(SUM, 'the right limit', limits.rightMm, TIR_MM)
  return limits
}

function doubtOf(input: TruingInput): number {
  const doubt = input.readingDoubtMm ?? 0
  needWithin(SUM, 'readingDoubtMm', doubt, TIR_MM)
  return doubt
}
