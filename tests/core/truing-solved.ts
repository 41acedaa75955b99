import fc from 'fast-check'
import { type TruingHeld, type TruingInput, type TruingOnSupports, truing, truingOnSupports } from '#core/truing.ts'
import type { SetUp } from '#core/truing-faults.ts'

export const SET_UP: SetUp = { supportLeftMm: 33, supportRightMm: 37, dialLeftMm: 44, dialRightMm: 26 }

export function round(mm: readonly number[], turn = 0) {
  const step = 360 / mm.length
  return { readings: mm.map((value, index) => ({ clockDeg: index * step + turn, mm: value })) }
}

export function solved(input: TruingInput): TruingOnSupports {
  const answer = truingOnSupports(input)
  if (!answer.ok) throw new Error(answer.reason)
  return answer.value
}

export function solvedHeld(input: TruingInput): TruingHeld {
  const answer = truing(input)
  if (!answer.ok) throw new Error(answer.reason)
  return answer.value as TruingHeld
}

const fourReadings = fc.array(fc.double({ min: -0.3, max: 0.3, noNaN: true }), { minLength: 4, maxLength: 4 })
export const bothEnds = fc.record({ left: fourReadings, right: fourReadings })
