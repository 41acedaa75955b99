import { describe, expect, it } from 'vitest'
import { type PracticeStep, playPractice, scorePractice } from '#core/practice.ts'
import {
  dealPractice,
  normalFrom,
  PRACTICE_LEVELS,
  PRACTICE_LIMIT_MM,
  PRACTICE_WORTH_MM,
  practiceBestMm,
  practiceChance,
  practiceWorstMm,
} from '#core/practice-crank.ts'
import { goodHand } from '#core/practice-hand.ts'
import { afterRim, isWrongWay, type PracticeMove, practiceRimMm, practiceSense } from '#core/practice-move.ts'
import { bestReachable } from '#core/truing-best.ts'
import { afterMove, crankWith, fullSwings, readAt } from './rigid-crank.ts'

const SEEDS = Array.from({ length: 200 }, (_, place) => 20 * place + 1)
const MOVES: PracticeMove[] = [
  { action: 'strike', half: 'right', atDeg: 90, how: 'firm' },
  { action: 'squeeze', how: 'more' },
  { action: 'strike', half: 'left', atDeg: 240, how: 'hard' },
  { action: 'wedge', how: 'much' },
  { action: 'strike', half: 'left', atDeg: 45, how: 'hard' },
  { action: 'strike', half: 'right', atDeg: 300, how: 'light' },
]

function cannotBeCured(seed: number): boolean {
  const crank = dealPractice(seed, 'perhaps-none')
  return practiceBestMm(crank.faults, crank.setUp) > PRACTICE_LIMIT_MM
}

describe('the dealing', () => {
  it('gives the same crank, readings and moves for the same seed, level and list of moves', () => {
    expect(playPractice(4_000_000_000, 'four', MOVES)).toEqual(playPractice(4_000_000_000, 'four', MOVES))
    expect(dealPractice(1, 'four')).not.toEqual(dealPractice(2, 'four'))
  })

  it('gives the luck of a move by its number alone, whatever was done before', () => {
    const crank = dealPractice(77, 'two')
    const [first, last] = [MOVES[0]!, MOVES[2]!]
    const rims = playPractice(77, 'two', [last, last, last, first]).rimMm
    expect(rims[3]).toBe(practiceRimMm(77, crank, first, 3))
    expect(playPractice(77, 'two', [first, first, first, first]).rimMm[3]).toBe(rims[3])
  })

  it('deals what the level says, out of true by far, and the last level beyond any hand three times in five', () => {
    for (const seed of SEEDS)
      for (const level of PRACTICE_LEVELS) {
        const { faults, setUp } = dealPractice(seed, level)
        const byHand = [faults.swingMm, faults.openRad].filter((size) => size !== 0).length
        expect(byHand).toBe(level === 'one' ? 1 : 2)
        expect(practiceWorstMm(faults, setUp)).toBeGreaterThan(1.2 * PRACTICE_LIMIT_MM)
        if (level === 'one' || level === 'two') expect(practiceBestMm(faults, setUp)).toBe(0)
        if (level === 'four') expect(practiceBestMm(faults, setUp)).toBeLessThanOrEqual(0.8 * PRACTICE_LIMIT_MM + 1e-12)
      }
    const beyond = SEEDS.filter(cannotBeCured).length / SEEDS.length
    // 200 draws of 0.6: standard deviation 0.035.
    expect(beyond).toBeGreaterThan(0.48)
    expect(beyond).toBeLessThan(0.72)
  })

  it('draws normal luck: mean 0 and variance 1 within four standard errors', () => {
    const random = practiceChance(5, 'luck', 9)
    const drawn = Array.from({ length: 4000 }, () => normalFrom(random))
    const mean = drawn.reduce((sum, one) => sum + one, 0) / drawn.length
    const variance = drawn.reduce((sum, one) => sum + (one - mean) ** 2, 0) / drawn.length
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(4000))
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / 4000))
  })

  it('refuses a seed that is none and more than sixty moves', () => {
    expect(() => playPractice(-1, 'one', [])).toThrow(RangeError)
    expect(() => playPractice(0.5, 'one', [])).toThrow(RangeError)
    expect(() => playPractice(1, 'one', Array<PracticeMove>(61).fill(MOVES[0]!))).toThrow(RangeError)
  })
})

describe('what the dials read, against a crank of two rigid halves in three dimensions', () => {
  it('follows it through blows, squeezes and wedges within the noise of the marks', () => {
    for (const seed of SEEDS.slice(0, 40)) {
      const { crank, readings, rimMm } = playPractice(seed, 'four', MOVES)
      let rigid = crankWith(crank.faults, crank.strokeMm)
      for (const [number, reading] of readings.entries()) {
        // Each mark less the one at 12: two noises of 0.001 and two roundings of 0.0005 stay within 0.009 but for 1 in 10⁹.
        const marks = reading.marks.map((mark) => mark.atDeg)
        const { left, right } = readAt(rigid, crank.setUp, marks)
        for (const [place, mark] of reading.marks.entries()) {
          expect(Math.abs(mark.leftMm - (left[place]! - left[0]!))).toBeLessThan(0.009)
          expect(Math.abs(mark.rightMm - (right[place]! - right[0]!))).toBeLessThan(0.009)
        }
        const move = MOVES[number]
        if (move !== undefined) rigid = afterMove(rigid, { ...move, amountMm: rimMm[number]!, say: '' }, crank.rimRadiusMm)
      }
    }
  })

  it('without the noise agrees to one part in a hundred: the rest is that a web that turns takes its tilt along', () => {
    for (const seed of SEEDS.slice(0, 40)) {
      const { crank, states, rimMm } = playPractice(seed, 'four', MOVES)
      let rigid = crankWith(crank.faults, crank.strokeMm)
      for (const [number, move] of MOVES.entries())
        rigid = afterMove(rigid, { ...move, amountMm: rimMm[number]!, say: '' }, crank.rimRadiusMm)
      const { left, right } = fullSwings(rigid, crank.setUp)
      const worst = Math.max(left, right)
      expect(Math.abs(practiceWorstMm(states.at(-1)!, crank.setUp) - worst)).toBeLessThan(1e-4 + 0.01 * worst)
    }
  })
})

describe('the joint', () => {
  it('sticks below its break-away and jumps above it, both by luck', () => {
    const tight = { joint: { breakAwayMm: 0.1, ease: 1 } }
    const rims = SEEDS.map((seed) => practiceRimMm(seed, tight, { action: 'strike', half: 'right', atDeg: 90, how: 'light' }, 0))
    expect(rims.every((rim) => rim === 0)).toBe(true)
    const hard = SEEDS.map((seed) => practiceRimMm(seed, tight, { action: 'strike', half: 'right', atDeg: 90, how: 'hard' }, 0))
    expect(hard.every((rim) => rim > 0)).toBe(true)
    // Lognormal about 0.3 with 0.4 in natural logs: the mean log of 200 has a standard error of 0.028.
    const logs = hard.reduce((sum, rim) => sum + Math.log(rim / 0.3), 0) / hard.length
    expect(Math.abs(logs)).toBeLessThan(4 * 0.4 * Math.sqrt(1 / 200))
  })

  it('feels the moment about the pin: none at 12 and 6, half at 1 o’clock', () => {
    const loose = { joint: { breakAwayMm: 0.0001, ease: 1 } }
    const rim = (atDeg: number) => practiceRimMm(9, loose, { action: 'strike', half: 'left', atDeg, how: 'hard' }, 4)
    expect(rim(0)).toBe(0)
    expect(rim(180)).toBe(0)
    expect(rim(30)).toBeCloseTo(rim(90) / 2, 12)
  })

  it('moves the struck half away from the blow, and leaves throw and cock as they are', () => {
    const faults = { swingMm: 0.1, openRad: 0.002, throwMm: 0.01, cockedRad: 0.0001 }
    const sizes = { strokeMm: 72, rimRadiusMm: 56 }
    // Rim travel to move the shaft: (R + r) / r, here 92 / 36; geometry.
    const swings = (half: 'left' | 'right', atDeg: number) =>
      afterRim(faults, sizes, { action: 'strike', half, atDeg, how: 'firm' }, 0.092).swingMm
    expect(swings('right', 90)).toBeCloseTo(0.064, 12)
    expect(swings('left', 270)).toBeCloseTo(0.064, 12)
    expect(swings('right', 270)).toBeCloseTo(0.136, 12)
    expect(swings('left', 90)).toBeCloseTo(0.136, 12)
    expect(afterRim(faults, sizes, { action: 'squeeze', how: 'more' }, 0.112)).toEqual({ ...faults, openRad: 0.001 })
    expect(afterRim(faults, sizes, { action: 'wedge', how: 'more' }, 0.112)).toEqual({ ...faults, openRad: 0.003 })
  })

  it('knows a move that is aimed away from the best reachable, where that fault matters', () => {
    const setUp = { supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52 }
    const faults = { swingMm: 0.1, openRad: 0, throwMm: 0, cockedRad: 0 }
    const best = bestReachable(faults, setUp)
    const wrong = (move: PracticeMove) => isWrongWay(faults, best, setUp, move, PRACTICE_WORTH_MM)
    expect(wrong({ action: 'strike', half: 'right', atDeg: 90, how: 'light' })).toBe(false)
    expect(wrong({ action: 'strike', half: 'right', atDeg: 270, how: 'light' })).toBe(true)
    expect(wrong({ action: 'strike', half: 'left', atDeg: 90, how: 'light' })).toBe(true)
    // The webs are parallel as far as these dials tell: neither way is wrong.
    expect(wrong({ action: 'squeeze', how: 'little' })).toBe(false)
    expect(practiceSense({ action: 'strike', half: 'right', atDeg: 180, how: 'hard' }).sense).toBe(0)
  })
})

describe('a good hand', () => {
  it.each(['one', 'two', 'four'] as const)('brings in at least 98 of 100 curable cranks of level %s', (level) => {
    const cranks = SEEDS.map((seed) => ({ crank: dealPractice(seed, level), good: goodHand(seed, dealPractice(seed, level)) }))
    const within = cranks.filter(({ good }) => good.called === 'true' && good.worstMm <= PRACTICE_LIMIT_MM + PRACTICE_WORTH_MM)
    expect(within.length).toBeGreaterThanOrEqual(0.98 * SEEDS.length)
  })

  it('names at least 98 of 100 that no hand cures, and at most 2 in 100 of the others', () => {
    const called = (seed: number) => goodHand(seed, dealPractice(seed, 'perhaps-none')).called
    const cannot = SEEDS.filter(cannotBeCured)
    const can = SEEDS.filter((seed) => !cannotBeCured(seed))
    expect(cannot.filter((seed) => called(seed) === 'no-hand').length).toBeGreaterThanOrEqual(0.98 * cannot.length)
    expect(can.filter((seed) => called(seed) === 'no-hand').length).toBeLessThanOrEqual(0.02 * can.length)
  })

  it('meets the same luck as whoever makes the same moves', () => {
    const good = goodHand(61, dealPractice(61, 'four'))
    expect(good.moves.length).toBeGreaterThan(1)
    const { states, crank } = playPractice(61, 'four', good.moves)
    expect(practiceWorstMm(states.at(-1)!, crank.setUp)).toBe(good.worstMm)
  })
})

describe('the score', () => {
  const said = { leftTirMm: 0.1, rightTirMm: 0.2 }

  it('is even with the good hand for the good hand’s own moves, each told exactly', () => {
    const good = goodHand(61, dealPractice(61, 'four'))
    const { readings } = playPractice(61, 'four', good.moves)
    const steps = good.moves.map((move, number): PracticeStep => {
      const came = readings[number + 1]!
      return { move, said: { leftTirMm: came.left.tirMm, rightTirMm: came.right.tirMm } }
    })
    const score = scorePractice(61, 'four', steps, 'true')
    expect(score).toMatchObject({ moves: steps.length, goodMoves: steps.length, calledRight: true, saidOffMm: 0, wrongWay: 0 })
    expect(score.worstMm).toBe(good.worstMm)
    expect(score.worstMm).toBeGreaterThanOrEqual(score.bestMm - PRACTICE_WORTH_MM)
    expect(score.unchangedOffMm).toBeGreaterThan(0.01)
  })

  it('takes the mean distance of both ends from what came, and from what stood before', () => {
    const { readings } = playPractice(12, 'two', MOVES.slice(0, 1))
    const [before, came] = [readings[0]!, readings[1]!]
    const score = scorePractice(12, 'two', [{ move: MOVES[0]!, said }], 'left')
    expect(score.saidOffMm).toBeCloseTo((Math.abs(0.1 - came.left.tirMm) + Math.abs(0.2 - came.right.tirMm)) / 2, 12)
    const stood = (Math.abs(before.left.tirMm - came.left.tirMm) + Math.abs(before.right.tirMm - came.right.tirMm)) / 2
    expect(score.unchangedOffMm).toBeCloseTo(stood, 12)
  })

  it('counts each blow that was aimed the wrong way, moved or not', () => {
    const { faults } = dealPractice(12, 'two')
    const away = { action: 'strike', half: 'right', atDeg: faults.swingMm > 0 ? 270 : 90, how: 'light' } as const
    const towards = { ...away, atDeg: faults.swingMm > 0 ? 90 : 270 }
    const steps = [away, away, towards].map((move) => ({ move, said }))
    expect(scorePractice(12, 'two', steps, 'left').wrongWay).toBe(2)
  })

  it('has a call right or wrong by the truth, and none for leaving it', () => {
    const cannot = SEEDS.find(cannotBeCured)!
    const can = SEEDS.find((seed) => !cannotBeCured(seed))!
    const right = (seed: number, called: 'true' | 'no-hand' | 'left') => scorePractice(seed, 'perhaps-none', [], called).calledRight
    expect([right(cannot, 'no-hand'), right(can, 'no-hand')]).toEqual([true, false])
    expect([right(cannot, 'true'), right(can, 'true')]).toEqual([false, false])
    expect([right(cannot, 'left'), right(can, 'left')]).toEqual([false, false])
    expect(scorePractice(can, 'perhaps-none', [], 'left')).not.toHaveProperty('saidOffMm')
  })
})
