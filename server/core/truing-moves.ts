import { BINARY_DUST_MM } from '#core/limits.ts'
import type { BestReachable, EndLimits } from '#core/truing-best.ts'
import type { Faults, SetUp } from '#core/truing-faults.ts'

export const TRUING_VERDICTS = ['true', 'throw', 'cocked', 'swing', 'open', 'pinched', 'swing-and-open', 'swing-and-pinched'] as const
export type TruingVerdict = (typeof TRUING_VERDICTS)[number]

export const TRUING_ACTIONS = ['strike', 'squeeze', 'wedge', 'part', 'leave'] as const
export type TruingAction = (typeof TRUING_ACTIONS)[number]

/** Soft hammer: copper, brass or lead. Soft jaws: of a vice, or a screw clamp. Source: common practice, no source. */
export const TRUING_TOOLS = ['soft-hammer', 'soft-jaws', 'wedge', 'press'] as const
export type TruingTool = (typeof TRUING_TOOLS)[number]

export type Half = 'left' | 'right'

/** What the hand does next. */
export interface TruingMove {
  action: TruingAction
  /** What it is done with; absent where it is left alone. */
  tool?: TruingTool
  /** The web that is struck; a strike only. */
  half?: Half
  /** The rim mark that takes the blow, clock angle; the struck half moves away from it. A strike only. */
  atDeg?: number
  /** How far it should go: sideways at the rim opposite the pin (strike), in rim gap opposite the pin (squeeze, wedge). */
  amountMm: number
  say: string
}

/** How far swing and open are from the best that can be reached, and what that costs at the worse dial. */
export interface Hurts {
  /** + when the right half is still carried too far towards mark 3, mm. */
  swingOffMm: number
  /** + when the webs are still too wide apart opposite the pin, radians. */
  openOffRad: number
  /** Full swing that each costs at the end where it shows most, mm. */
  swingMm: number
  openMm: number
}

/** What swing and open cost against the best reachable. Source: the forward model, each fault alone. */
export function hurtsOf(faults: Faults, best: BestReachable, setUp: SetUp): Hurts {
  const { supportLeftMm: a, supportRightMm: b, dialLeftMm, dialRightMm } = setUp
  const p = Math.abs(dialLeftMm)
  const q = Math.abs(dialRightMm)
  const swingOffMm = faults.swingMm - best.swingMm
  const openOffRad = faults.openRad - best.openRad
  return {
    swingOffMm,
    openOffRad,
    swingMm: ((2 * Math.max(p, q)) / (a + b)) * Math.abs(swingOffMm),
    openMm: ((2 * Math.max(p * b, q * a)) / (a + b)) * Math.abs(openOffRad),
  }
}

/**
 * One word for what is wrong. Without a limit nothing is called true, throw or cocked, and two faults are not named
 * together, because each of these is a comparison with what is allowed. Of two limits the smaller one says when two faults
 * are named together.
 */
export function verdictOf(
  ends: { leftTirMm: number; rightTirMm: number },
  faults: Faults,
  best: BestReachable,
  hurts: Hurts,
  setUp: SetUp,
  limits: EndLimits | undefined,
): TruingVerdict {
  if (limits !== undefined && isWithin(ends.leftTirMm, ends.rightTirMm, limits)) return 'true'
  if (limits !== undefined && !isWithin(best.leftTirMm, best.rightTirMm, limits)) return worseOfHandless(faults, setUp)
  const spread = hurts.openOffRad < 0 ? 'pinched' : 'open'
  const both = limits !== undefined && Math.min(hurts.swingMm, hurts.openMm) > Math.min(limits.leftMm, limits.rightMm) / 2
  if (both) return `swing-and-${spread}`
  return hurts.swingMm >= hurts.openMm ? 'swing' : spread
}

function isWithin(leftTirMm: number, rightTirMm: number, limits: EndLimits): boolean {
  return leftTirMm <= limits.leftMm + BINARY_DUST_MM && rightTirMm <= limits.rightMm + BINARY_DUST_MM
}

/** Which of the two faults without a hand cure leaves more when it is alone. */
function worseOfHandless(faults: Faults, setUp: SetUp): 'throw' | 'cocked' {
  const p = Math.abs(setUp.dialLeftMm)
  const q = Math.abs(setUp.dialRightMm)
  const throwLeaves = (2 * Math.abs(faults.throwMm)) / (setUp.supportLeftMm / p + setUp.supportRightMm / q)
  const cockedLeaves = (2 * Math.abs(faults.cockedRad)) / (1 / p + 1 / q)
  return throwLeaves >= cockedLeaves ? 'throw' : 'cocked'
}

const FIRST = 'Dials back, off its supports, glasses on; the rules of your shop come first.'
const AFTER = 'Then read both ends again, and take width and side clearance again.'

const LEAVE_TRUE = 'Leave it alone: both ends are within what is allowed.'
export const LEAVE_DOUBT = 'Leave it: what is left is less than these dials can tell.'
const LEAVE_THROW =
  'Leave it there: the throws are unequal and no blow or wedge cures that. Only another matched half would; let the owner decide.'
const PART =
  'Stop striking: the pin stands cocked in a bore and no blow or wedge cures that. Press it apart by the rules of your shop, look at pin and bores, and start again.'

/** The moves to make, the one to make now first. `smallestMm` is what these dials can tell; less than that is left alone. */
export function movesFor(
  verdict: TruingVerdict,
  hurts: Hurts,
  sizes: { strokeMm: number; rimRadiusMm: number },
  smallestMm: number,
): TruingMove[] {
  if (verdict === 'true') return [leave(LEAVE_TRUE)]
  const least = Math.max(smallestMm, BINARY_DUST_MM)
  const moves: TruingMove[] = []
  if (hurts.swingMm > least) moves.push(strike('right', hurts.swingOffMm, sizes))
  if (hurts.openMm > least) {
    const rim = squeezeOrWedge(hurts.openOffRad, sizes.rimRadiusMm)
    if (hurts.openMm > hurts.swingMm) moves.unshift(rim)
    else moves.push(rim)
  }
  if (verdict === 'throw') moves.push(leave(LEAVE_THROW))
  else if (verdict === 'cocked') moves.push({ action: 'part', tool: 'press', amountMm: 0, say: PART })
  else if (moves.length === 0) moves.push(leave(LEAVE_DOUBT))
  return moves
}

/**
 * A blow on the rim of one web. A half that is carried towards mark 3 is struck at mark 3, because the struck half moves
 * away from the blow; for the left half the same swing stands the other way round.
 */
export function strike(half: Half, swingOffMm: number, sizes: { strokeMm: number; rimRadiusMm: number }): TruingMove {
  const throwRadius = sizes.strokeMm / 2
  const atThree = half === 'right' ? swingOffMm > 0 : swingOffMm < 0
  const mark = atThree ? '3' : '9'
  const other = half === 'right' ? 'left' : 'right'
  return {
    action: 'strike',
    tool: 'soft-hammer',
    half,
    atDeg: atThree ? 90 : 270,
    amountMm: (Math.abs(swingOffMm) * (sizes.rimRadiusMm + throwRadius)) / throwRadius,
    say: `${FIRST} Hold the ${other} half, mark ${mark} up, and strike the ${half} web at mark ${mark}, light, copper or brass. Then read again.`,
  }
}

function squeezeOrWedge(openOffRad: number, rimRadiusMm: number): TruingMove {
  const amountMm = Math.abs(openOffRad) * 2 * rimRadiusMm
  if (openOffRad > 0) {
    const say = `${FIRST} Squeeze the rims together at mark 6, opposite the pin, in soft jaws, fingers clear; it springs back, so go little by little. ${AFTER}`
    return { action: 'squeeze', tool: 'soft-jaws', amountMm, say }
  }
  const say = `${FIRST} Drive a hardwood or brass wedge between the rims at mark 6, opposite the pin, little by little. ${AFTER}`
  return { action: 'wedge', tool: 'wedge', amountMm, say }
}

export function leave(say: string): TruingMove {
  return { action: 'leave', amountMm: 0, say }
}
