import { sinDegrees } from '#core/clock-angle.ts'
import type { TruingOnSupports } from '#core/truing.ts'
import { endOf, type Faults, readingsFrom, type SetUp } from '#core/truing-faults.ts'
import type { Half, TruingAction } from '#core/truing-moves.ts'

export interface MoveMade {
  action: TruingAction
  /** The web that took the blow; a strike only. */
  half?: Half | undefined
  /** The rim mark that took it, degrees clockwise from the pin seen from the right-hand end; a strike only. */
  atDeg?: number | undefined
}

/** A blow within 45° of 3 or 9 o'clock turns the webs about the pin; nearer to 12 or 6 it does something else. */
const LEAST_SINE = Math.SQRT1_2

/**
 * Full swings at both ends after a perfect move of this kind: a blow that brings the swing, or a squeeze or wedge that
 * brings the opening of the webs, to the best that can be reached, and leaves all else as it was. A move that works away
 * from there has no perfect form, and neither has pressing apart: null. The struck half moves away from the blow, so that
 * the right web struck at 3 and the left web struck at 9 do the same.
 *
 * Lengths mm. Source: the forward model of truing-faults.ts with the best of bestReachable.
 *
 * @example foretoldAfter({ faults: { swingMm: 0.1, openRad: 0, throwMm: 0, cockedRad: 0 }, bestReachable: { leftTirMm: 0, rightTirMm: 0, swingMm: 0, openRad: 0 } }, { action: 'strike', half: 'right', atDeg: 90 }, { supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52 }) // { leftTirMm: 0, rightTirMm: 0 }
 */
export function foretoldAfter(
  sum: Pick<TruingOnSupports, 'faults' | 'bestReachable'>,
  move: MoveMade,
  setUp: SetUp,
): { leftTirMm: number; rightTirMm: number } | null {
  const left = faultsAfter(sum, move)
  if (left === null) return null
  const ends = readingsFrom(left, setUp)
  return { leftTirMm: endOf(ends.left).tirMm, rightTirMm: endOf(ends.right).tirMm }
}

function faultsAfter({ faults, bestReachable: best }: Pick<TruingOnSupports, 'faults' | 'bestReachable'>, move: MoveMade): Faults | null {
  const { action } = move
  if (action === 'leave') return faults
  if (action === 'part') return null
  if (action === 'strike') {
    return worksTowards(swingSense(move), best.swingMm - faults.swingMm) ? { ...faults, swingMm: best.swingMm } : null
  }
  return worksTowards(action === 'wedge' ? 1 : -1, best.openRad - faults.openRad) ? { ...faults, openRad: best.openRad } : null
}

function worksTowards(sense: number, wanted: number): boolean {
  return sense * wanted > 0
}

/** Which way a blow carries the swing: + towards more of it, 0 where it turns nothing about the pin. */
function swingSense({ half, atDeg }: MoveMade): number {
  const sine = atDeg === undefined ? 0 : sinDegrees(atDeg)
  if (half === undefined || Math.abs(sine) < LEAST_SINE) return 0
  return half === 'right' ? -Math.sign(sine) : Math.sign(sine)
}
