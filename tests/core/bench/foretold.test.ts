import { describe, expect, it } from 'vitest'
import { foretoldAfter, type MoveMade } from '#core/bench/foretold.ts'
import { truingOnSupports } from '#core/truing.ts'
import { endOf, type Faults, readingsFrom } from '#core/truing-faults.ts'
import { LIES } from './record.ts'

const NONE: Faults = { swingMm: 0, openRad: 0, throwMm: 0, cockedRad: 0 }

function sumOf(faults: Partial<Faults>) {
  const arrows = readingsFrom({ ...NONE, ...faults }, LIES)
  const answer = truingOnSupports({ ...LIES, strokeMm: 62.4, left: endOf(arrows.left), right: endOf(arrows.right), held: 'both' })
  if (!answer.ok) throw new Error(answer.detail)
  return answer.value
}

const endsAfter = (faults: Partial<Faults>, move: MoveMade) => foretoldAfter(sumOf(faults), move, LIES)

describe('foretoldAfter (forward model: pure swing e reads 2pe/S and 2qe/S, pure opening α reads pα and qα on even supports)', () => {
  it('a perfect blow takes the swing and leaves the opening', () => {
    const ends = endsAfter({ swingMm: 0.1, openRad: 0.0004 }, { action: 'strike', half: 'right', atDeg: 90 })
    expect(ends?.leftTirMm).toBeCloseTo(45 * 0.0004, 9)
    expect(ends?.rightTirMm).toBeCloseTo(50 * 0.0004, 9)
  })

  it('a perfect squeeze or wedge takes the opening and leaves the swing', () => {
    const open = endsAfter({ swingMm: 0.1, openRad: 0.0004 }, { action: 'squeeze' })
    expect(open?.leftTirMm).toBeCloseTo((2 * 45 * 0.1) / 88, 9)
    expect(open?.rightTirMm).toBeCloseTo((2 * 50 * 0.1) / 88, 9)
    expect(endsAfter({ openRad: -0.0004 }, { action: 'wedge' })?.leftTirMm).toBeCloseTo(0, 9)
  })

  it('the right web at 3 and the left web at 9 do the same; the other two do the contrary', () => {
    const strike = (half: 'left' | 'right', atDeg: number) => endsAfter({ swingMm: 0.1 }, { action: 'strike', half, atDeg })
    expect(strike('left', 270)).toEqual(strike('right', 90))
    expect(strike('right', 90)?.leftTirMm).toBeCloseTo(0, 9)
    expect(strike('right', 270)).toBeNull()
    expect(strike('left', 90)).toBeNull()
    expect(strike('right', 0)).toBeNull()
    expect(strike('right', 50)?.leftTirMm).toBeCloseTo(0, 9)
  })

  it('aims at the best that can be reached and not at nothing, where throws are unequal', () => {
    const sum = sumOf({ swingMm: 0.1, throwMm: 0.01, cockedRad: 0.0002 })
    const ends = foretoldAfter(sum, { action: 'strike', half: 'right', atDeg: 90 }, LIES)
    const wanted = readingsFrom({ ...sum.faults, swingMm: sum.bestReachable.swingMm }, LIES)
    expect(ends).toEqual({ leftTirMm: endOf(wanted.left).tirMm, rightTirMm: endOf(wanted.right).tirMm })
  })

  it('left alone it stays; a squeeze of what is pinched and pressing apart have no perfect form', () => {
    expect(endsAfter({ swingMm: 0.1 }, { action: 'leave' })?.leftTirMm).toBeCloseTo((2 * 45 * 0.1) / 88, 9)
    expect(endsAfter({ openRad: -0.0004 }, { action: 'squeeze' })).toBeNull()
    expect(endsAfter({ swingMm: 0.1 }, { action: 'part' })).toBeNull()
  })
})
