import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { breakAway, FORCES, nextForce } from '#core/bench/break-away.ts'
import { faultDoubt, marksMayRunTheOtherWay, moveTurn, TURNS } from '#core/bench/move-told.ts'
import { stopAdvice, type TruingStep } from '#core/bench/stop-advice.ts'
import { bestReachable } from '#core/truing-best.ts'
import { faultsFrom } from '#core/truing-faults.ts'
import { strike } from '#core/truing-moves.ts'
import { afterMove, crankWith, readAt } from '../rigid-crank.ts'

const SET_UP = { supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52 }
const SIZES = { strokeMm: 60, rimRadiusMm: 52 }
const NONE = { swingMm: 0, openRad: 0, throwMm: 0, cockedRad: 0 }

/** Faults of a crank as four marks tell them, with the marks running as they should or the other way round. */
function told(crank: ReturnType<typeof crankWith>, marks: readonly [number, number, number, number] = [0, 90, 180, 270]) {
  const { left, right } = readAt(crank, SET_UP, marks)
  const arrow = (end: number[]) => ({ radialMm: (end[0]! - end[2]!) / 2, tangentialMm: (end[1]! - end[3]!) / 2 })
  return faultsFrom(arrow(left), arrow(right), SET_UP)
}

describe('what a move did, on the exact crank', () => {
  const doubt = faultDoubt(SET_UP, { leftMm: 0.005, rightMm: 0.005 })
  const crank = crankWith({ ...NONE, swingMm: 0.12 }, SIZES.strokeMm)
  const before = told(crank)
  const aim = bestReachable(before, SET_UP)
  const move = strike('right', before.swingMm - aim.swingMm, SIZES)
  const turnAfter = (share: number) => {
    const after = told(afterMove(crank, { ...move, amountMm: share * move.amountMm }, SIZES.rimRadiusMm))
    return moveTurn({ move, before, after, aim, doubt })
  }

  it.each([
    [1, 'as-foretold'],
    [0.5, 'short'],
    [1.6, 'too-far'],
    [-0.5, 'other-way'],
    [0.01, 'nothing'],
  ])('a blow of %d of what was meant is told as %s', (share, turn) => {
    expect(turnAfter(share)).toBe(turn)
  })

  it('marks that run the other way round make a good blow look as if it went the other way', () => {
    const mirrored = [0, 270, 180, 90] as const
    const seen = told(crank, mirrored)
    const advised = strike('right', seen.swingMm, SIZES)
    const after = told(afterMove(crank, advised, SIZES.rimRadiusMm), mirrored)
    const turn = moveTurn({ move: advised, before: seen, after, aim: { swingMm: 0, openRad: 0 }, doubt })
    expect(turn).toBe('other-way')
    expect(marksMayRunTheOtherWay(turn, seen, after, seen.swingMm)).toBe(true)
  })

  it('a small slip the other way is not blamed on the marks', () => {
    expect(marksMayRunTheOtherWay('other-way', { swingMm: 0.1, openRad: 0 }, { swingMm: 0.11, openRad: 0 }, 0.1)).toBe(false)
    expect(marksMayRunTheOtherWay('too-far', { swingMm: 0.1, openRad: 0 }, { swingMm: -0.1, openRad: 0 }, 0.1)).toBe(false)
  })

  it('every move has one turn, whatever the figures', () => {
    const figures = fc.record({
      swingMm: fc.double({ min: -1, max: 1, noNaN: true }),
      openRad: fc.double({ min: -0.01, max: 0.01, noNaN: true }),
    })
    fc.assert(
      fc.property(fc.constantFrom('strike', 'squeeze', 'wedge', 'part', 'leave'), figures, figures, figures, (action, was, now, meant) => {
        expect(TURNS).toContain(moveTurn({ move: { action: action as 'strike' }, before: was, after: now, aim: meant, doubt }))
      }),
    )
  })
})

describe('what one set can tell', () => {
  it('grows as the dial comes nearer to the support, as the lever does (worked case G5: the same rounding costs more there)', () => {
    const near = faultDoubt({ ...SET_UP, dialLeftMm: 6, dialRightMm: 6 }, { leftMm: 0.008, rightMm: 0.008 })
    const far = faultDoubt(SET_UP, { leftMm: 0.008, rightMm: 0.008 })
    expect(near.swingMm / far.swingMm).toBeGreaterThan(7)
  })
})

describe('the break-away band', () => {
  it('is the hardest blow that did nothing and the softest that moved it', () => {
    const band = breakAway([
      { force: 'light', turn: 'nothing' },
      { force: 'firm', turn: 'nothing' },
      { force: 'hard', turn: 'too-far' },
    ])
    expect(band).toEqual({ held: 'firm', moved: 'hard', uneven: false, went: { past: 1, of: 1 } })
    expect(nextForce(band)).toBe('hard')
  })

  it('is uneven where a softer blow moved it than one that did nothing', () => {
    expect(
      breakAway([
        { force: 'firm', turn: 'nothing' },
        { force: 'light', turn: 'short' },
      ])?.uneven,
    ).toBe(true)
  })

  it('is not there before a blow is told', () => {
    expect(breakAway([{ force: 'hard', turn: 'not-known' }])).toBeNull()
    expect(nextForce(null)).toBe('light')
    expect(nextForce(breakAway([{ force: 'hard', turn: 'nothing' }]))).toBe('hard')
  })

  it('never advises a softer blow than one that did nothing, unless a softer one moved it', () => {
    const blow = fc.record({ force: fc.constantFrom(...FORCES), turn: fc.constantFrom(...TURNS) })
    fc.assert(
      fc.property(fc.array(blow), (blows) => {
        const band = breakAway(blows)
        const level = FORCES.indexOf(nextForce(band))
        if (band?.moved === undefined && band?.held !== undefined) expect(level).toBeGreaterThanOrEqual(FORCES.indexOf(band.held))
        if (band?.moved !== undefined) expect(FORCES[level]).toBe(band.moved)
      }),
    )
  })
})

describe('when to walk away', () => {
  const minute = (minutes: number) => minutes * 60_000
  const set = (minutes: number, worstMm: number): TruingStep => ({ kind: 'set', atMs: minute(minutes), worstMm })
  const moved = (minutes: number, turn: 'too-far' | 'short' | 'nothing' | 'other-way'): TruingStep => ({
    kind: 'move',
    atMs: minute(minutes),
    turn,
  })

  it('after three reversals without gain, not after two', () => {
    const two = [set(0, 0.1), moved(1, 'too-far'), set(2, 0.098), moved(3, 'other-way'), set(4, 0.12)]
    expect(stopAdvice(two, 0.008)).toBeNull()
    expect(stopAdvice([...two, moved(5, 'too-far'), set(6, 0.1)], 0.008)).toEqual({ because: 'reversals', count: 3 })
  })

  it('after twenty minutes of moves without gain', () => {
    const steps = [set(0, 0.1), moved(5, 'nothing'), set(6, 0.1), moved(12, 'short'), set(14, 0.097), moved(18, 'nothing'), set(20, 0.1)]
    expect(stopAdvice(steps, 0.008)).toEqual({ because: 'no-gain', count: 20 })
    expect(stopAdvice(steps.slice(0, 5), 0.008)).toBeNull()
  })

  it('not while it gains, and afresh after a rest', () => {
    expect(
      stopAdvice([set(0, 0.3), moved(9, 'short'), set(18, 0.2), moved(20, 'too-far'), set(25, 0.1), moved(26, 'short')], 0.008),
    ).toBeNull()
    const rested = [set(0, 0.1), moved(1, 'too-far'), moved(2, 'too-far'), moved(3, 'too-far'), set(40, 0.1), moved(41, 'nothing')]
    expect(stopAdvice(rested, 0.008)).toBeNull()
    expect(stopAdvice([], 0.008)).toBeNull()
  })
})
