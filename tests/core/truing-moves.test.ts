import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bestReachable, type EndLimits } from '#core/truing-best.ts'
import { endOf, type Faults, readingsFrom, type SetUp } from '#core/truing-faults.ts'
import { hurtsOf, movesFor, strike, verdictOf } from '#core/truing-moves.ts'
import { afterMove, crankWith, fullSwings } from './rigid-crank.ts'
import { anyFaults, anySetUp, onBlocks, onCentres } from './truing-cases.ts'

const SIZES = { strokeMm: 60, rimRadiusMm: 52 }
const NONE: Faults = { swingMm: 0, openRad: 0, throwMm: 0, cockedRad: 0 }
const EVEN: SetUp = { supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52 }

function judge(faults: Faults, setUp: SetUp, limits?: EndLimits, doubtMm = 0) {
  const best = bestReachable(faults, setUp, limits)
  const hurts = hurtsOf(faults, best, setUp)
  const { left, right } = readingsFrom(faults, setUp)
  const verdict = verdictOf({ leftTirMm: endOf(left).tirMm, rightTirMm: endOf(right).tirMm }, faults, best, hurts, setUp, limits)
  return { best, hurts, verdict, moves: movesFor(verdict, hurts, SIZES, doubtMm) }
}

const both = (mm: number): EndLimits => ({ leftMm: mm, rightMm: mm })

describe('a blow, on rigid halves in three dimensions', () => {
  it.each([
    ['V-blocks, dials outboard', onBlocks],
    ['centres, dials inboard', onCentres],
  ])('on %s brings both ends down: the struck half moves away from the blow', (_name, setUps) => {
    const swing = fc.oneof(fc.double({ min: 0.01, max: 0.3, noNaN: true }), fc.double({ min: -0.3, max: -0.01, noNaN: true }))
    fc.assert(
      fc.property(
        swing,
        fc.double({ min: -0.0005, max: 0.0005, noNaN: true }),
        setUps,
        fc.constantFrom('left' as const, 'right' as const),
        (swingMm, openRad, setUp, half) => {
          const crank = crankWith({ ...NONE, swingMm, openRad }, SIZES.strokeMm)
          const move = strike(half, swingMm, SIZES)
          const before = fullSwings(crank, setUp)
          const after = fullSwings(afterMove(crank, move, SIZES.rimRadiusMm), setUp)
          expect(after.left).toBeLessThan(before.left)
          expect(after.right).toBeLessThan(before.right)
          // And the other mark of the same half makes it worse.
          const wrong = fullSwings(afterMove(crank, { ...move, atDeg: (move.atDeg! + 180) % 360 }, SIZES.rimRadiusMm), setUp)
          expect(wrong.left).toBeGreaterThan(before.left)
        },
      ),
      { numRuns: 60 },
    )
  })

  it('with throw and cocked in the way too, the moves together reach the best that can be reached', () => {
    fc.assert(
      fc.property(anyFaults, anySetUp, (coarse, setUp) => {
        // A tenth of the usual, so that terms of the second order count for less than the tolerance.
        const faults = Object.fromEntries(Object.entries(coarse).map(([name, value]) => [name, value / 10])) as unknown as Faults
        const { best, moves } = judge(faults, setUp)
        let crank = crankWith(faults, SIZES.strokeMm)
        const worstOf = (swings: { left: number; right: number }) => Math.max(swings.left, swings.right)
        const before = worstOf(fullSwings(crank, setUp))
        for (const move of moves) crank = afterMove(crank, move, SIZES.rimRadiusMm)
        const after = worstOf(fullSwings(crank, setUp))
        const wanted = Math.max(best.leftTirMm, best.rightTirMm)
        // 0.03²/60 mm at the crank's centre, as the dial furthest out enlarges it, and dials looked at in whole degrees.
        const gain = (2 * Math.max(Math.abs(setUp.dialLeftMm), Math.abs(setUp.dialRightMm))) / (setUp.supportLeftMm + setUp.supportRightMm)
        const slack = 4e-5 * (1 + gain) + 2e-4 * wanted
        expect(Math.abs(after - wanted)).toBeLessThan(slack)
        expect(after).toBeLessThan(before + slack)
      }),
      { numRuns: 60 },
    )
  })

  it('aims at the best reachable, not at zero: from there a blow only makes it worse', () => {
    const faults: Faults = { swingMm: 0, openRad: 0, throwMm: 0.02, cockedRad: 0.0005 }
    const setUp: SetUp = { supportLeftMm: 33, supportRightMm: 37, dialLeftMm: 44, dialRightMm: 26 }
    const { best } = judge(faults, setUp)
    const there = judge({ ...faults, swingMm: best.swingMm, openRad: best.openRad }, setUp)
    expect(Math.abs(best.swingMm)).toBeGreaterThan(0.003)
    expect(there.moves.map((move) => move.action)).toEqual(['leave'])
  })
})

describe('moves', () => {
  it('G1: strike the right web at mark 3, 2.5 times the swing at the rim for r 36, R 55 (worked case)', () => {
    const hurts = { swingOffMm: 0.1, openOffRad: 0, swingMm: 0.137, openMm: 0 }
    const [move, ...rest] = movesFor('swing', hurts, { strokeMm: 72, rimRadiusMm: 55 }, 0)
    expect(rest).toEqual([])
    expect(move).toMatchObject({ action: 'strike', half: 'right', atDeg: 90 })
    expect(move!.amountMm).toBeCloseTo(0.1 * ((55 + 36) / 36), 12)
    expect(move!.say).toMatch(/strike the right web at mark 3/)
    expect(move!.say).toMatch(/Dials back.*glasses.*rules of your shop/)
  })

  it('the left web takes the same swing at the other mark, and a swing the other way turns both round', () => {
    expect([strike('left', 0.1, SIZES).atDeg, strike('right', -0.1, SIZES).atDeg, strike('left', -0.1, SIZES).atDeg]).toEqual([
      270, 270, 90,
    ])
  })

  it('G2: open is squeezed by 0.11 mm of gap for a web of 110 mm, pinched is wedged', () => {
    const open = movesFor('open', { swingOffMm: 0, openOffRad: 0.001, swingMm: 0, openMm: 0.05 }, { strokeMm: 72, rimRadiusMm: 55 }, 0)
    expect(open).toHaveLength(1)
    expect(open[0]).toMatchObject({ action: 'squeeze', amountMm: expect.closeTo(0.11, 12) })
    expect(open[0]).not.toHaveProperty('half')
    const pinched = movesFor('pinched', { swingOffMm: 0, openOffRad: -0.001, swingMm: 0, openMm: 0.05 }, SIZES, 0)
    expect(pinched[0]!.action).toBe('wedge')
    for (const [move] of [open, pinched]) expect(move!.say).toMatch(/mark 6.*width and side clearance again/)
  })

  it('each names its tool, and what no hand cures goes to the press or is left (the tools: common practice, no source)', () => {
    const hurts = { swingOffMm: 0.1, openOffRad: 0.001, swingMm: 0.137, openMm: 0.05 }
    const tools = (verdict: Parameters<typeof movesFor>[0], openOffRad: number) =>
      movesFor(verdict, { ...hurts, openOffRad }, SIZES, 0).map((move) => [move.action, move.tool])
    expect(tools('swing-and-open', 0.001)).toEqual([
      ['strike', 'soft-hammer'],
      ['squeeze', 'soft-jaws'],
    ])
    expect(tools('swing-and-pinched', -0.001)[1]).toEqual(['wedge', 'wedge'])
    expect(tools('cocked', 0.001).at(-1)).toEqual(['part', 'press'])
    expect(tools('throw', 0.001).at(-1)).toEqual(['leave', undefined])
    expect(tools('true', 0)).toEqual([['leave', undefined]])
  })

  it('the greater hurt comes first', () => {
    const swingFirst = movesFor('swing-and-open', { swingOffMm: 0.1, openOffRad: 0.001, swingMm: 0.1, openMm: 0.05 }, SIZES, 0)
    const openFirst = movesFor('swing-and-open', { swingOffMm: 0.1, openOffRad: 0.001, swingMm: 0.05, openMm: 0.1 }, SIZES, 0)
    expect(swingFirst.map((move) => move.action)).toEqual(['strike', 'squeeze'])
    expect(openFirst.map((move) => move.action)).toEqual(['squeeze', 'strike'])
  })

  it('what is less than the dials can tell is left alone', () => {
    const hurts = { swingOffMm: 0.01, openOffRad: 0.0001, swingMm: 0.012, openMm: 0.005 }
    expect(movesFor('swing', hurts, SIZES, 0.008).map((move) => move.action)).toEqual(['strike'])
    expect(movesFor('swing', hurts, SIZES, 0.012).map((move) => move.action)).toEqual(['leave'])
    expect(movesFor('true', { ...hurts, swingMm: 5 }, SIZES, 0).map((move) => move.action)).toEqual(['leave'])
  })

  it('no hand cure: to the best reachable, then leave it (throw) or part it (cocked)', () => {
    const throwMoves = judge({ swingMm: 0.1, openRad: 0, throwMm: 0.05, cockedRad: 0 }, EVEN, both(0.02))
    expect(throwMoves.verdict).toBe('throw')
    expect(throwMoves.moves.map((move) => move.action).at(0)).toBe('strike')
    expect(throwMoves.moves.map((move) => move.action).at(-1)).toBe('leave')
    expect(throwMoves.moves.at(-1)!.say).toMatch(/throws are unequal/)
    const cocked = judge({ swingMm: 0, openRad: 0.001, throwMm: 0, cockedRad: 0.002 }, EVEN, both(0.02))
    expect(cocked.verdict).toBe('cocked')
    expect(cocked.moves.map((move) => move.action).at(-1)).toBe('part')
    expect(cocked.moves.at(-1)!.say).toMatch(/rules of your shop/)
  })

  it('says nothing with an exclamation mark and ends each sentence', () => {
    fc.assert(
      fc.property(anyFaults, anySetUp, fc.constantFrom(undefined, both(0.02), both(0.1)), (faults, setUp, limits) => {
        for (const move of judge(faults, setUp, limits).moves) {
          expect(move.say).toMatch(/^[A-Z][^!]*\.$/)
          expect(move.amountMm).toBeGreaterThanOrEqual(0)
          expect(move.half !== undefined).toBe(move.action === 'strike')
          expect(move.atDeg !== undefined).toBe(move.action === 'strike')
        }
      }),
    )
  })
})

describe('verdict', () => {
  it.each<[string, Faults, EndLimits | undefined, string]>([
    ['both ends within', { ...NONE, swingMm: 0.01 }, both(0.02), 'true'],
    ['a swing', { ...NONE, swingMm: 0.1 }, both(0.02), 'swing'],
    ['open', { ...NONE, openRad: 0.001 }, both(0.02), 'open'],
    ['pinched', { ...NONE, openRad: -0.001 }, both(0.02), 'pinched'],
    ['G3, swing and pinched', { ...NONE, swingMm: -0.06, openRad: -0.0008 }, both(0.02), 'swing-and-pinched'],
    ['swing and open', { ...NONE, swingMm: 0.06, openRad: 0.0008 }, both(0.02), 'swing-and-open'],
    ['the smaller under half the limit', { ...NONE, swingMm: 0.06, openRad: 0.0001 }, both(0.02), 'swing'],
    ['unequal throws', { ...NONE, throwMm: 0.05 }, both(0.02), 'throw'],
    ['a cocked pin', { ...NONE, cockedRad: 0.002 }, both(0.02), 'cocked'],
    [
      'unequal throws, no limit: the webs stand nearer than the best that is left',
      { ...NONE, throwMm: 0.05, swingMm: 0.001 },
      undefined,
      'pinched',
    ],
    ['next to nothing, no limit', { ...NONE, swingMm: 0.0001 }, undefined, 'swing'],
    ['two faults, no limit to measure them by', { ...NONE, swingMm: 0.06, openRad: 0.0008 }, undefined, 'swing'],
  ])('%s', (_name, faults, limits, verdict) => {
    expect(judge(faults, EVEN, limits).verdict).toBe(verdict)
  })

  it('each end has its own limit', () => {
    const faults = { ...NONE, swingMm: 0.02 }
    const { left, right } = readingsFrom(faults, EVEN)
    const [leftMm, rightMm] = [endOf(left).tirMm, endOf(right).tirMm]
    expect(judge(faults, EVEN, { leftMm, rightMm }).verdict).toBe('true')
    expect(judge(faults, EVEN, { leftMm: leftMm * 0.99, rightMm }).verdict).toBe('swing')
    expect(judge(faults, EVEN, { leftMm, rightMm: rightMm * 0.99 }).verdict).toBe('swing')
  })

  it('never says true, throw or cocked without a limit, and true exactly when both ends are within', () => {
    fc.assert(
      fc.property(anyFaults, anySetUp, fc.double({ min: 0.001, max: 0.3, noNaN: true }), (faults, setUp, limitMm) => {
        expect(['swing', 'open', 'pinched']).toContain(judge(faults, setUp).verdict)
        const { left, right } = readingsFrom(faults, setUp)
        const { verdict, best } = judge(faults, setUp, both(limitMm))
        const within = Math.max(endOf(left).tirMm, endOf(right).tirMm) <= limitMm
        expect(verdict === 'true').toBe(within)
        expect(verdict === 'throw' || verdict === 'cocked').toBe(!within && best.leftTirMm > limitMm)
      }),
    )
  })
})
