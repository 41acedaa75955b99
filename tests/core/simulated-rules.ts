import { fitRoundATurn } from '#core/readings-round-a-turn.ts'
import { truingOnSupports } from '#core/truing.ts'
import type { TruingMove } from '#core/truing-moves.ts'
import { type Case, LIMIT_MM, type Reading, type Rule } from './simulated-hand.ts'

/** What four readings of 0.001 each can tell as a full swing: below that the advice is to leave it. */
const DOUBT_MM = 0.002

/** Follows the advice of the book. */
export const advised: Rule = (reading, one) => {
  const sum = truingOnSupports({
    ...one.setUp,
    strokeMm: one.strokeMm,
    rimRadiusMm: one.rimRadiusMm,
    left: { readings: reading.left },
    right: { readings: reading.right },
    limitTirMm: LIMIT_MM,
    readingDoubtMm: DOUBT_MM,
  })
  if (!sum.ok) throw new Error(sum.detail)
  const { verdict, moves } = sum.value
  if (verdict === 'true') return { says: 'true' }
  if (verdict === 'throw' || verdict === 'cocked') return { says: 'not-by-hand' }
  const move = moves[0]!
  return move.action === 'leave' || move.action === 'part' ? { says: 'not-by-hand' } : { says: 'move', move }
}

/**
 * The rule that benches repeat: high spots opposite, strike; high spots alike, squeeze or wedge (common practice, no
 * source). It takes the size from the full swings as if that one fault were all there is.
 */
export const plain: Rule = (reading, one) => {
  const left = highSpot(reading.left)
  const right = highSpot(reading.right)
  if (Math.max(left.tirMm, right.tirMm) <= LIMIT_MM) return { says: 'true' }
  const apart = Math.abs(((left.atDeg - right.atDeg + 540) % 360) - 180)
  return { says: 'move', move: apart > 90 ? plainStrike(left, right, one) : plainRim(left, right, one) }
}

interface HighSpot {
  tirMm: number
  atDeg: number
}

function highSpot(readings: Reading['left']): HighSpot {
  const turn = fitRoundATurn(readings)
  if (!turn.ok) throw new Error(turn.detail)
  const { radialMm, tangentialMm } = turn.value
  return {
    tirMm: 2 * Math.hypot(radialMm, tangentialMm),
    atDeg: ((Math.atan2(tangentialMm, radialMm) * 180) / Math.PI + 360) % 360,
  }
}

/** On V-blocks with outboard dials the right web is carried towards the mark at which the left end reads high. */
function plainStrike(left: HighSpot, right: HighSpot, one: Case): TruingMove {
  const { supportLeftMm: a, supportRightMm: b, dialLeftMm: p, dialRightMm: q } = one.setUp
  const swingMm = (left.tirMm / p + right.tirMm / q) * ((a + b) / 4)
  const throwRadius = one.strokeMm / 2
  const sideways = Math.sin((left.atDeg * Math.PI) / 180) - Math.sin((right.atDeg * Math.PI) / 180)
  const amountMm = (swingMm * (one.rimRadiusMm + throwRadius)) / throwRadius
  return { action: 'strike', half: 'right', atDeg: sideways > 0 ? 90 : 270, amountMm, say: '' }
}

/** Both high with the pin under the dial: the webs stand open opposite the pin. */
function plainRim(left: HighSpot, right: HighSpot, one: Case): TruingMove {
  const openRad = (left.tirMm / one.setUp.dialLeftMm + right.tirMm / one.setUp.dialRightMm) / 2
  const towardsPin = Math.cos((left.atDeg * Math.PI) / 180) + Math.cos((right.atDeg * Math.PI) / 180)
  return { action: towardsPin > 0 ? 'squeeze' : 'wedge', amountMm: openRad * 2 * one.rimRadiusMm, say: '' }
}
