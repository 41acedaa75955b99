import { describe, expect, it } from 'vitest'
import { round, SET_UP, solvedHeld } from './truing-solved.ts'

describe('one main held true, in a lathe', () => {
  // The axis of turning is the held shaft itself; the dial on the other main reads δ + α × its distance.
  const faults = { swingMm: 0.08, openRad: 0.0007, throwMm: 0.01, cockedRad: 0 }
  const dialAway = (tilt: number, offset: number, distance: number) => offset + tilt * distance
  const far = SET_UP.supportRightMm + SET_UP.dialRightMm
  const rightMarks = [0, 1, 2, 3].map((quarter) => {
    const [r, t] = [dialAway(faults.openRad, faults.throwMm, far), dialAway(faults.cockedRad, faults.swingMm, far)]
    return [r, t, -r, -t][quarter]!
  })

  it('left held: the right end reads twice the swing straight', () => {
    const answer = solvedHeld({ strokeMm: 60, held: 'left', supportRightMm: 37, dialRightMm: 26, right: round(rightMarks) })
    expect(answer.faults).toEqual({ swingMm: expect.closeTo(0.08, 12) })
    expect(answer).not.toHaveProperty('left')
    expect(answer).not.toHaveProperty('bestReachable')
    expect(answer.verdict).toBe('swing')
    expect(answer.moves[0]).toMatchObject({
      action: 'strike',
      half: 'right',
      atDeg: 90,
      amountMm: expect.closeTo(0.08 * ((50 + 30) / 30), 12),
    })
    expect(answer.moves[0]!.say).toMatch(/if the pin is not cocked\.$/)
  })

  it('right held: mirrored, the left end is read and the left web is struck', () => {
    const answer = solvedHeld({ strokeMm: 60, held: 'right', supportLeftMm: 33, dialLeftMm: 44, left: round([0, -0.08, 0, 0.08]) })
    expect(answer.faults.swingMm).toBeCloseTo(0.08, 12)
    expect(answer.moves[0]).toMatchObject({ action: 'strike', half: 'left', atDeg: 270 })
    expect(answer).not.toHaveProperty('right')
  })

  it('looks at nothing of the held end', () => {
    const wanted = solvedHeld({ strokeMm: 60, held: 'left', supportRightMm: 37, dialRightMm: 26, right: round(rightMarks) })
    const given = solvedHeld({ strokeMm: 60, held: 'left', ...SET_UP, left: round([9, 9, 9, 0]), right: round(rightMarks) })
    expect(given).toEqual(wanted)
  })

  it('leaves alone what the dial cannot tell', () => {
    const answer = solvedHeld({
      strokeMm: 60,
      held: 'left',
      supportRightMm: 37,
      dialRightMm: 26,
      right: round([0, 0.004, 0, -0.004]),
      readingDoubtMm: 0.008,
    })
    expect(answer.moves.map((move) => move.action)).toEqual(['leave'])
  })
})
