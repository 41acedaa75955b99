import { describe, expect, it, test } from 'vitest'
import { supportOf } from '#core/bench/end-worth.ts'
import { limitsAtDial } from '#core/bench/limits-at-dial.ts'
import { runoutFigures } from '#core/bench/runout-set.ts'
import { WAYS_OF_HOLDING } from '#core/crank-shape.ts'
import { dialAt, readingsFrom } from '#core/truing-faults.ts'
import { LIES, SHEET, turn } from './record.ts'

const of = (values: ReturnType<typeof turn>, more: Partial<Parameters<typeof runoutFigures>[0]> = {}) =>
  runoutFigures({ values, setUp: LIES, dialStepMm: 0.01, sheet: SHEET, shopLimitMm: 0.02, ...more })

describe('runoutFigures', () => {
  it('works a set as a hundredth dial reads it (by hand: half the difference of opposite marks)', () => {
    const read = (side: string, mm: readonly number[]) => mm.map((each, mark) => ({ place: side, atDeg: mark * 90, mm: each }))
    const values = [...read('left', [0, 0.07, 0.02, -0.05]), ...read('right', [0, -0.06, 0.02, 0.08])]
    const worked = of([...values, { place: 'left-again', mm: 0 }, { place: 'right-again', mm: 0 }])
    expect(worked.left?.tirMm).toBeCloseTo(2 * Math.hypot(0.01, 0.06), 12)
    expect(worked.right?.tirMm).toBeCloseTo(2 * Math.hypot(0.01, 0.07), 12)
    // a·D_L/p − b·D_R/q, tangential: 44 × 0.06/45 + 44 × 0.07/50.
    expect(worked.sum?.faults.swingMm).toBeCloseTo((44 * 0.06) / 45 + (44 * 0.07) / 50, 12)
    expect(worked.sum?.moves[0]).toMatchObject({ action: 'strike', half: 'right', atDeg: 90 })
    // By the budget: the lever of 45 and 50 over 88 tells the ends apart.
    expect(worked.giveOrTake.leftMm).toBeCloseTo(0.00785, 5)
    expect(worked.giveOrTake.rightMm).toBeCloseTo(0.0079, 5)
    expect(worked.method.version).toBe('2')
    expect(worked.closes).toEqual({ leftMm: 0, rightMm: 0, agree: true })
  })

  it('hands the limits to the sum only where both ends have one', () => {
    expect(of(turn({ swingMm: 0.01 })).sum?.verdict).toBe('true')
    const { dialLeftMm: _place, ...noPlace } = SHEET
    expect(of(turn({ swingMm: 0.01 }), { sheet: noPlace }).sum?.verdict).toBe('swing')
  })

  it('takes the house limit of the shop where the sheet has none', () => {
    const { limitHouseLeftMm: _left, ...sheet } = SHEET
    expect(of(turn({}), { sheet, shopLimitMm: 0.025 }).limits).toMatchObject({ leftMm: 0.025, rightMm: 0.02 })
  })

  it('keeps the limits as the sheet gave them beside those carried to the dial (limit × distance ÷ distance, by hand)', () => {
    const further = of(turn({}), { setUp: { ...LIES, dialLeftMm: 70 } }).limits
    expect(further.leftMm).toBeCloseTo((0.02 * 70) / 45, 12)
    expect(further.makerLeftMm).toBeCloseTo((0.03 * 70) / 45, 12)
    expect(further.given).toEqual({
      left: { limitMm: 0.02, makerMm: 0.03, dialMm: 45 },
      right: { limitMm: 0.02, makerMm: 0.03, dialMm: 50 },
    })
    expect(of(turn({}), { setUp: { ...LIES, held: 'cases' } }).limits).toEqual({ atStatedPlace: false })
  })

  it('reads a crank exactly at eight marks with those in a keyway left out, and wrongly with the dip taken in', () => {
    const arrows = readingsFrom({ swingMm: 0.06, openRad: 0.0005, throwMm: 0, cockedRad: 0 }, LIES)
    // A key slot 2 mm deep lies under the left dial at 45°: by geometry of the slot, the dial falls to its bottom.
    const read = (side: 'left' | 'right', marks: readonly number[]) =>
      marks.map((atDeg) => ({ place: side, atDeg, mm: dialAt(arrows[side], atDeg) - (side === 'left' && atDeg === 45 ? 2 : 0) }))
    const all = [0, 45, 90, 135, 180, 225, 270, 315]
    const again = (['left', 'right'] as const).map((side) => ({ place: `${side}-again`, atDeg: 0, mm: dialAt(arrows[side], 0) }))
    const skipped = of(
      [
        ...read(
          'left',
          all.filter((deg) => deg !== 45),
        ),
        ...read('right', all),
        ...again,
      ],
      {
        setUp: { ...LIES, skippedLeftDeg: [45] },
      },
    )
    const exact = of(turn({ swingMm: 0.06, openRad: 0.0005 }))
    expect(skipped.left?.tirMm).toBeCloseTo(exact.left?.tirMm ?? 0, 12)
    expect(skipped.left?.highAtDeg).toBeCloseTo(exact.left?.highAtDeg ?? 0, 9)
    expect(skipped.sum?.faults.swingMm).toBeCloseTo(0.06, 12)
    expect(skipped.quality.map(({ code, side }) => [code, side])).toEqual([['keyway-skipped', 'left']])
    const dipped = of([...read('left', all), ...read('right', all), ...again])
    expect(Math.abs((dipped.left?.tirMm ?? 0) - (exact.left?.tirMm ?? 0))).toBeGreaterThan(0.5)
    expect(dipped.quality.map(({ code }) => code)).toContain('rough')
  })

  it('refuses in words an end of which too few marks are left', () => {
    const left = turn({ swingMm: 0.06 }).filter(({ place, atDeg }) => place !== 'left' || atDeg === 0 || atDeg === 180)
    expect(of(left, { setUp: { ...LIES, skippedLeftDeg: [90, 270] } }).refused).toBe(
      'Left end: Read at three different marks or more; four (12, 3, 6, 9) is the habit.',
    )
  })

  it('leaves alone what is less than the dials can tell', () => {
    // 0.006 of swing shows 0.0061 and 0.0068: over these limits, and less than the 0.008 that the dials cannot tell.
    const worked = of(turn({ swingMm: 0.006 }), { sheet: { ...SHEET, limitHouseLeftMm: 0.001, limitHouseRightMm: 0.001 } })
    expect(worked.sum?.moves).toEqual([expect.objectContaining({ action: 'leave' })])
  })

  it('allows half a division of a coarse dial for 12 again, and 0.005 for a fine one', () => {
    const off = (byMm: number) => turn({}).map((value) => (value.place === 'left-again' ? { ...value, mm: byMm } : value))
    expect(of(off(0.01), { dialStepMm: 0.02 }).closes.agree).toBe(true)
    expect(of(off(0.011), { dialStepMm: 0.02 }).closes.agree).toBe(false)
    expect(of(off(0.005), { dialStepMm: 0.001 }).closes.agree).toBe(true)
    expect(of(off(0.0052), { dialStepMm: 0.001 }).closes.agree).toBe(false)
  })

  it('judges by the rule that it is given: what lies in the doubt band is within by the simple one', () => {
    const near = turn({ swingMm: 0.016 })
    expect(of(near).verdicts).toEqual({ left: 'in-the-doubt-band', right: 'in-the-doubt-band' })
    expect(of(near).worth?.rule).toBe('full-guard')
    expect(of(near, { rule: 'simple' }).verdicts).toEqual({ left: 'within', right: 'within' })
    expect(of(turn({ swingMm: 0.03 }), { rule: 'simple' }).verdicts).toEqual({ left: 'over', right: 'over' })
  })

  it('takes what the register says of the dial before the usual figures', () => {
    const worn = of(turn({}), { register: { errorMm: 0.02 } })
    expect(worn.giveOrTake.leftMm).toBeGreaterThan(2 * of(turn({})).giveOrTake.leftMm)
    expect(worn.worth?.left.parts.find(({ name }) => name === 'dial')?.standardMm).toBeCloseTo(0.02 / Math.sqrt(3), 12)
  })

  it('flags a warm crank, and leaves its give-or-take alone', () => {
    const warm = of(turn({}), { setUp: { ...LIES, cold: false } })
    expect(warm.quality.map(({ code }) => code)).toEqual(['warm'])
    expect(warm.giveOrTake).toEqual(of(turn({})).giveOrTake)
  })

  it('says nothing of a set without readings', () => {
    expect(of([])).toMatchObject({ closes: { agree: false }, verdicts: {} })
  })
})

describe('limitsAtDial', () => {
  test.each([
    [45, 0.02],
    [90, 0.04],
    [22.5, 0.01],
    [45.4, 0.02 * (45.4 / 45)],
  ])('carries a limit for 45 mm to %s mm in proportion (two straight shafts on fixed supports)', (dialLeftMm, houseMm) => {
    const at = limitsAtDial('left', { ...LIES, dialLeftMm }, SHEET, 0.03)
    expect(at).toMatchObject({ kind: 'carried' })
    expect(at.kind === 'carried' && at.limits.houseMm).toBeCloseTo(houseMm, 12)
    expect(at.kind === 'carried' && at.limits.makerMm).toBeCloseTo(houseMm * 1.5, 12)
  })

  it('compares on the same supports only, half a millimetre give or take', () => {
    const kind = (change: object) => limitsAtDial('right', { ...LIES, ...change }, SHEET, 0.03).kind
    expect(kind({ supportLeftMm: 44.5 })).toBe('carried')
    expect(kind({ supportLeftMm: 44.6 })).toBe('not-to-be-compared')
    expect(kind({ supportRightMm: 40 })).toBe('not-to-be-compared')
    expect(kind({ dialRightMm: -50 })).toBe('not-to-be-compared')
    for (const held of ['lathe-left', 'lathe-right', 'cases']) expect(kind({ held })).toBe('not-to-be-compared')
    for (const held of ['rollers-bare', 'rollers-bearings', 'v-blocks-bearings']) expect(kind({ held })).toBe('carried')
  })

  it('compares between centres where the sheet itself is made between centres', () => {
    const sheet = { ...SHEET, supportLeftMm: 90, supportRightMm: 95, dialLeftMm: -45, dialRightMm: -50 }
    const lies = { ...LIES, held: 'centres' as const, supportLeftMm: 90, supportRightMm: 95, dialLeftMm: -45, dialRightMm: -50 }
    expect(limitsAtDial('left', lies, sheet, 0.03)).toEqual({
      kind: 'carried',
      limits: { houseMm: 0.02, makerMm: 0.03 },
      given: { houseMm: 0.02, makerMm: 0.03, dialMm: -45 },
    })
  })

  it('has no place where the sheet names none, and no limit of the maker where he gives none', () => {
    const { dialRightMm: _dial, limitMakerLeftMm: _maker, ...sheet } = SHEET
    expect(limitsAtDial('right', LIES, sheet, 0.03)).toEqual({ kind: 'no-place' })
    expect(limitsAtDial('left', LIES, sheet, 0.03)).toMatchObject({ limits: { makerMm: null } })
  })

  it('refuses a dial on its support', () => {
    expect(() => limitsAtDial('left', { ...LIES, dialLeftMm: 0 }, SHEET, 0.03)).toThrow(RangeError)
  })
})

test('ground seats are bare, centres have an error of their own, everything else carries that of its rings', () => {
  expect(WAYS_OF_HOLDING.map((held) => [held, supportOf(held)])).toEqual([
    ['v-blocks-bare', 'bare-seats'],
    ['v-blocks-bearings', 'bearings'],
    ['rollers-bare', 'bare-seats'],
    ['rollers-bearings', 'bearings'],
    ['centres', 'centres'],
    ['lathe-left', 'bearings'],
    ['lathe-right', 'bearings'],
    ['cases', 'bearings'],
  ])
})
