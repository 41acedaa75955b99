import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type EndToJudge, endQuality, fingerDialFactor, keywayDegrees, repeatFlag } from '#core/bench/reading-quality.ts'
import { fitRoundATurn } from '#core/readings-round-a-turn.ts'
import { surfaceSaid } from '#core/surface-words.ts'

const EIGHT = [0, 45, 90, 135, 180, 225, 270, 315]
const FOUR = [0, 90, 180, 270]

function end(at: (deg: number) => number, marks: readonly number[], more: Partial<EndToJudge> = {}): EndToJudge {
  const readings = marks.map((clockDeg) => ({ clockDeg, mm: at(clockDeg) }))
  const turn = fitRoundATurn(readings)
  return {
    side: 'left',
    readings,
    turn: turn.ok ? turn.value : undefined,
    dialMm: 45,
    surface: { surface: 'plain' },
    dialStepMm: 0.01,
    ...more,
  }
}
const cos = (deg: number) => Math.cos((deg * Math.PI) / 180)
const codes = (one: EndToJudge) => endQuality(one).map(({ code }) => code)

describe('quality of a reading', () => {
  it('a round shaft off its axis is clean, however large its swing and wherever the dial was set (first harmonic: ISO 12181)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        fc.integer({ min: 0, max: 359 }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (e, high, zero) => {
          const at = (deg: number) => zero + e * cos(deg - high)
          expect(codes(end(at, FOUR))).toEqual([])
          expect(codes(end(at, EIGHT))).toEqual([])
        },
      ),
    )
  })

  it('an oval shaft does not add up at four marks, and is named at eight', () => {
    const at = (deg: number) => 0.05 * cos(deg) + 0.02 * cos(2 * deg)
    expect(codes(end(at, FOUR))).toEqual(['marks-do-not-add-up'])
    expect(endQuality(end(at, FOUR))[0]?.figure).toBeCloseTo(0.08, 12)
    expect(codes(end(at, EIGHT))).toEqual(['oval'])
    expect(endQuality(end(at, EIGHT))[0]?.figure).toBeCloseTo(0.02, 12)
  })

  it('a mark in a slot leaves more than a dial can account for', () => {
    const at = (deg: number) => 0.03 * cos(deg) - (deg === 135 ? 0.2 : 0)
    expect(codes(end(at, EIGHT))).toContain('rough')
    const skipped = EIGHT.filter((mark) => mark !== 135)
    expect(codes(end(at, skipped))).toEqual([])
  })

  it('says how many marks were skipped for a keyway, and where three are left that nothing checks them', () => {
    const at = (deg: number) => 0.03 * cos(deg) - (deg === 135 || deg === 90 ? 0.2 : 0)
    const said = endQuality(
      end(
        at,
        EIGHT.filter((mark) => mark !== 135 && mark !== 90),
        { skipped: 2 },
      ),
    )
    expect(said).toEqual([
      { code: 'keyway-skipped', side: 'left', figure: 2, says: '2 marks skipped for the keyway.', do: 'The swing comes from the other 6.' },
    ])
    const three = end(
      at,
      FOUR.filter((mark) => mark !== 90),
      { skipped: 1 },
    )
    expect(endQuality(three)[0]).toMatchObject({
      says: 'One mark skipped for the keyway.',
      do: '3 marks leave nothing to check the reading by: read at eight.',
    })
    // What was skipped need not be asked for once more.
    const surface = surfaceSaid('plain 18 mm, keyway at 30-48')
    expect(codes({ ...three, surface })).toEqual(['keyway-skipped'])
    expect(codes({ ...three, surface, skipped: 0 })).toEqual(['keyway'])
  })

  it('12 that does not come back is told with its figure and way; half a division of a coarse dial passes', () => {
    const at = (deg: number) => 0.03 * cos(deg)
    expect(endQuality(end(at, FOUR, { closesByMm: -0.02 }))[0]?.says).toBe('12 came back 0.02 lower.')
    expect(codes(end(at, FOUR, { closesByMm: 0.005 }))).toEqual([])
    expect(codes(end(at, FOUR, { closesByMm: 0.006, dialStepMm: 0.001 }))).toEqual(['does-not-close'])
  })

  it.each([
    ['plain 16 mm + thread at 60', 52, []],
    ['plain 16 mm + thread at 60', 61, ['thread']],
    ['spline 14 mm', 38, ['spline']],
    ['plain 18 mm + keyway at 30-48', 45, ['keyway']],
    ['plain 18 mm + keyway at 30-48', 50, []],
    ['taper 1:5 + keyway', 27, ['taper']],
  ])('%s, dial at %d: %j', (words, dialMm, expected) => {
    expect(codes(end((deg) => 0.02 * cos(deg), FOUR, { surface: surfaceSaid(words), dialMm }))).toEqual(expected)
  })

  it('figures of the handbooks: 0.05 endwise reads 0.005 on 1:5 and 0.0025 on 1:10; a 4 mm key on Ø20 takes 23° (geometry)', () => {
    const taper = (words: string) =>
      endQuality(end(() => 0, FOUR, { surface: surfaceSaid(words) })).find(({ code }) => code === 'taper')?.figure
    expect(taper('taper 1:5')).toBeCloseTo(0.005, 12)
    expect(taper('taper 1:10')).toBeCloseTo(0.0025, 12)
    expect(keywayDegrees(4, 20)).toBeCloseTo(23.07, 2)
    expect(() => keywayDegrees(20, 20)).toThrow(RangeError)
  })

  it('a finger dial reads 0.98, 0.94, 0.87, 0.77, 0.64, 0.50 true at 10 to 60 degrees (cosine)', () => {
    const rounded = [10, 20, 30, 40, 50, 60].map((deg) => Number(fingerDialFactor(deg).toFixed(2)))
    expect(rounded).toEqual([0.98, 0.94, 0.87, 0.77, 0.64, 0.5])
    expect(() => fingerDialFactor(90)).toThrow(RangeError)
  })

  it('sets in a row are told when they differ by more than they are worth', () => {
    expect(repeatFlag('right', [0.03], 0.008)).toBeNull()
    expect(repeatFlag('right', [0.03, 0.041], 0.008)).toBeNull()
    expect(repeatFlag('right', [0.03, 0.042], 0.008)).toMatchObject({ code: 'spread', side: 'right' })
  })
})
