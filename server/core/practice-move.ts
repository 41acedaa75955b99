import { sinDegrees } from '#core/clock-angle.ts'
import { normalFrom, type PracticeCrank, practiceChance } from '#core/practice-crank.ts'
import type { BestReachable } from '#core/truing-best.ts'
import type { Faults, SetUp } from '#core/truing-faults.ts'
import { type Half, hurtsOf } from '#core/truing-moves.ts'

export const PRACTICE_BLOWS = ['light', 'firm', 'hard'] as const
export const PRACTICE_PRESSES = ['little', 'more', 'much'] as const

/** A blow on the rim of a web at a mark, or the rims squeezed or wedged at 6. */
export type PracticeMove =
  | { action: 'strike'; half: Half; atDeg: number; how: (typeof PRACTICE_BLOWS)[number] }
  | { action: 'squeeze' | 'wedge'; how: (typeof PRACTICE_PRESSES)[number] }

/** How far the rim opposite the pin usually goes, mm: sideways for a blow at 3 or 9, in the gap for a squeeze or wedge. Invented. */
export const USUAL_RIM_MM: Readonly<Record<PracticeMove['how'], number>> = {
  light: 0.05,
  firm: 0.12,
  hard: 0.3,
  little: 0.05,
  more: 0.12,
  much: 0.3,
}

const STICKS_UNEVENLY = 0.15
const JUMPS_UNEVENLY = 0.4

/**
 * How far the rim opposite the pin goes under a move, mm; 0 where the joint sticks. Stick and slip: a blow turns the webs
 * by its moment about the pin, which is greatest at 3 and 9 and none at 12 and 6; what stays below the break-away of the
 * joint moves nothing, what is above it jumps by chance, lognormally about the usual distance. The luck hangs on the
 * seed and the number of the move (0, 1, …) only.
 *
 * Source: common practice, no source (stick-slip of a press fit); the sizes are invented for practice.
 *
 * @example practiceRimMm(1, { joint: { breakAwayMm: 0.03, ease: 1 } }, { action: 'strike', half: 'right', atDeg: 180, how: 'hard' }, 0) // 0
 */
export function practiceRimMm(seed: number, crank: Pick<PracticeCrank, 'joint'>, move: PracticeMove, number: number): number {
  const random = practiceChance(seed, 'luck', number)
  const sticksAtMm = crank.joint.breakAwayMm * Math.exp(STICKS_UNEVENLY * normalFrom(random))
  const jump = Math.exp(JUMPS_UNEVENLY * normalFrom(random))
  const share = move.action === 'strike' ? Math.abs(sinDegrees(move.atDeg)) : 1
  const meantMm = USUAL_RIM_MM[move.how] * share
  return meantMm < sticksAtMm ? 0 : meantMm * crank.joint.ease * jump
}

/**
 * Which fault a move works on and which way: + towards more of it. The struck half moves away from the blow, so that the
 * right web struck at 3 and the left web struck at 9 both take swing away; 0 for a blow at 12 or 6.
 *
 * @example practiceSense({ action: 'strike', half: 'right', atDeg: 90, how: 'light' }) // { fault: 'swingMm', sense: -1 }
 */
export function practiceSense(move: PracticeMove): { fault: 'swingMm' | 'openRad'; sense: number } {
  if (move.action !== 'strike') return { fault: 'openRad', sense: move.action === 'wedge' ? 1 : -1 }
  const sense = Math.sign(sinDegrees(move.atDeg))
  return { fault: 'swingMm', sense: (move.half === 'right' ? -sense : sense) + 0 }
}

/**
 * The faults once the rim has gone so far: the webs turned about the pin, or tilted at it. Throw and cock stay.
 *
 * @example afterRim({ swingMm: 0.1, openRad: 0, throwMm: 0, cockedRad: 0 }, { strokeMm: 80, rimRadiusMm: 60 }, { action: 'strike', half: 'right', atDeg: 90, how: 'firm' }, 0.25).swingMm // 0
 *
 * Lengths mm. Source: geometry of two rigid halves hinged at the pin, as `strike` and its neighbours in truing-moves.ts.
 */
export function afterRim(
  faults: Faults,
  sizes: Pick<PracticeCrank, 'strokeMm' | 'rimRadiusMm'>,
  move: PracticeMove,
  rimMm: number,
): Faults {
  const { fault, sense } = practiceSense(move)
  const throwRadius = sizes.strokeMm / 2
  const gone = fault === 'swingMm' ? (rimMm * throwRadius) / (sizes.rimRadiusMm + throwRadius) : rimMm / (2 * sizes.rimRadiusMm)
  return { ...faults, [fault]: faults[fault] + sense * gone }
}

/** Whether a move was aimed away from the best that can be reached, where that fault costs more than the dials tell. */
export function isWrongWay(faults: Faults, best: BestReachable, setUp: SetUp, move: PracticeMove, worthMm: number): boolean {
  const hurts = hurtsOf(faults, best, setUp)
  const { fault, sense } = practiceSense(move)
  const [off, costMm] = fault === 'swingMm' ? [hurts.swingOffMm, hurts.swingMm] : [hurts.openOffRad, hurts.openMm]
  return costMm > worthMm && sense * off > 0
}
