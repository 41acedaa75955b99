import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { BUDGET_PARTS } from '#core/bench/budget.ts'
import { atTwo, type EndRead, endWorth, helpsMost } from '#core/bench/end-worth.ts'
import { byDoubt } from '#core/bench/worth-by-doubt.ts'
import { GIVE_OR_TAKE } from '#core/runout-verdict.ts'

const LIES: EndRead['setUp'] = { held: 'v-blocks-bare', supportLeftMm: 40, supportRightMm: 40, dialLeftMm: 32, dialRightMm: 32 }
const left = (more: Partial<EndRead> = {}): EndRead => ({ side: 'left', setUp: LIES, dial: { stepMm: 0.01 }, ...more })
const onBearings = { ...LIES, held: 'v-blocks-bearings' } as const

describe('what one end is worth', () => {
  it.each(GIVE_OR_TAKE)('comes to the table of the trade: $dialStepMm on $support (computed; common practice)', (row) => {
    const setUp = row.support === 'bearings' ? onBearings : LIES
    const { giveOrTakeMm } = endWorth(left({ setUp, dial: { stepMm: row.dialStepMm } }))
    expect(Math.abs(giveOrTakeMm - row.giveOrTakeMm)).toBeLessThan(0.0005)
  })

  it('is worked by hand for a hundredth dial on bare seats: GUM 5.1.2, parts as rectangular over √3', () => {
    const lever = Math.hypot(1 + 32 / 80, 32 / 80)
    const halves = [0.005, 0.003, 0.0015, 0.001 * Math.SQRT2, 0.0015 * lever, 0.0015]
    const squares = halves.map((half) => half ** 2 / 3)
    const whole = squares.reduce((sum, square) => sum + square, 0)
    const worth = endWorth(left())
    expect(worth.giveOrTakeMm).toBeCloseTo(2 * Math.sqrt(whole), 12)
    expect(worth.parts.map(({ name }) => name)).toEqual(['dial', 'retrace', 'repeat', 'reading', 'seats', 'surface'])
    worth.parts.forEach(({ share }, index) => {
      expect(share).toBeCloseTo(squares[index]! / whole, 12)
    })
  })

  it('knows each end by its own dial, support and surface', () => {
    const setUp = { ...LIES, dialRightMm: 70, surfaceRight: 'taper 1:5' }
    const right = endWorth({ side: 'right', setUp, dial: { stepMm: 0.01 } })
    expect(right.giveOrTakeMm).toBeGreaterThan(endWorth(left({ setUp })).giveOrTakeMm)
    expect(right.parts.map(({ name }) => name)).toContain('way along the taper')
  })

  it('sees what lies under this dial: a taper that begins further out is not under it', () => {
    const words = (surfaceLeft: string) => endWorth(left({ setUp: { ...LIES, surfaceLeft } })).parts.map(({ name }) => name)
    expect(words('taper 1:10')).toContain('way along the taper')
    expect(words('plain 20 mm, thread beyond 60')).not.toContain('way along the taper')
  })

  it.each(['taper 1:0.2', 'taper 1:400', '', 'whatever'])('is not upset by the words “%s”', (surfaceLeft) => {
    expect(endWorth(left({ setUp: { ...LIES, surfaceLeft } })).giveOrTakeMm).toBeGreaterThan(0.005)
  })

  it('centres bring their own error, between seats and bearings', () => {
    const worth = (held: EndRead['setUp']['held']) => endWorth(left({ setUp: { ...LIES, held, dialLeftMm: -20 } })).giveOrTakeMm
    expect(worth('centres')).toBeGreaterThan(worth('v-blocks-bare'))
    expect(worth('centres')).toBeLessThan(worth('v-blocks-bearings'))
  })

  it('two sets say too little of their spread; three that come apart bring it, three alike leave the dial’s own', () => {
    const worth = (swingsMm: number[]) => endWorth(left({ swingsMm }), byDoubt)
    expect(worth([0.02, 0.04]).giveOrTakeMm).toBe(worth([0.02]).giveOrTakeMm)
    expect(worth([0.02, 0.02, 0.02]).giveOrTakeMm).toBe(worth([0.02]).giveOrTakeMm)
    const apart = worth([0.02, 0.03, 0.04])
    expect(apart.parts.find(({ name }) => name === 'repeat')?.standardMm).toBeCloseTo(0.01, 12)
    expect(apart.sets).toBe(3)
  })

  it('Student’s t for few sets: 2 degrees of freedom stretched by the parts that are known (GUM G.4, G.6.4)', () => {
    const apart = endWorth(left({ swingsMm: [0.02, 0.03, 0.04] }), byDoubt)
    const share = apart.parts.find(({ name }) => name === 'repeat')!.share
    expect(apart.degreesOfFreedom).toBeCloseTo(2 / share ** 2, 9)
    // Two degrees, rounded down: k of GUM table G.2 for 95.45 %.
    expect(Math.floor(apart.degreesOfFreedom!)).toBe(2)
    expect(apart.k).toBeCloseTo(4.53, 2)
    expect(endWorth(left({ swingsMm: [0.02, 0.03, 0.04] }), atTwo).k).toBe(2)
  })

  it('without repeats the bench and the book say the same', () => {
    const dial = fc.record({
      stepMm: fc.double({ min: 0.0005, max: 0.1, noNaN: true }),
      errorMm: fc.double({ min: 0, max: 0.05, noNaN: true }),
    })
    fc.assert(
      fc.property(dial, fc.constantFrom(LIES, onBearings), (one, setUp) => {
        const read = left({ setUp, dial: one })
        expect(endWorth(read, byDoubt).giveOrTakeMm).toBeCloseTo(endWorth(read).giveOrTakeMm, 12)
      }),
    )
  })
})

describe('what would help most', () => {
  it('on bearings is to read on bare seats: a ring of 0.013 ÷ √6 through its lever against all the rest', () => {
    const ring = (0.013 ** 2 / 6) * (1.4 ** 2 + 0.4 ** 2)
    const rest = (0.005 ** 2 + 0.003 ** 2 + 0.0015 ** 2 + 2 * 0.001 ** 2 + 0.0015 ** 2) / 3
    expect(ring / (ring + rest)).toBeCloseTo(0.816, 3)
    expect(helpsMost(endWorth(left({ setUp: onBearings })).parts)).toBe('bearings 82 %: read on bare seats')
  })

  it('has words for every part', () => {
    for (const name of BUDGET_PARTS) expect(helpsMost([{ name, standardMm: 1, share: 1 }])).toMatch(new RegExp(`^${name} 100 %: \\S`))
    expect(() => helpsMost([])).toThrow(RangeError)
  })
})
