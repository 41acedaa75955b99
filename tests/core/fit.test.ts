import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type FitInput, fit as pressFit } from '#core/fit.ts'
import vectors from '#tests/vectors/fit.json' with { type: 'json' }

type Nested = { [name: string]: number | Nested }

function closeTo(found: Nested, expected: Nested, tolerance: number, relative = false): void {
  for (const [name, wanted] of Object.entries(expected)) {
    if (typeof wanted === 'number')
      expect(Math.abs((found[name] as number) - wanted), name).toBeLessThanOrEqual(tolerance * (relative ? Math.abs(wanted) : 1))
    else closeTo(found[name] as Nested, wanted, tolerance, relative)
  }
}

const diameter = fc.double({ min: 10, max: 60, noNaN: true })
const share = fc.double({ min: 0.0005, max: 0.006, noNaN: true })

describe('fit', () => {
  it.each(vectors)('$name ($source, $status)', ({ input, expected, tolerance }) => {
    closeTo(pressFit(input as FitInput) as unknown as Nested, expected as unknown as Nested, tolerance)
  })

  it('takes the least pin and the greatest bore', () => {
    const answer = pressFit({ pinMm: [22.08, 22.07, 22.09], boreMm: [21.99, 22, 21.995], engagementMm: 18 })
    expect(answer.interferenceMm).toBeCloseTo(0.07, 12)
  })

  it('holds in step with interference, length and friction', () => {
    fc.assert(
      fc.property(diameter, share, fc.double({ min: 5, max: 40, noNaN: true }), (bore, part, engagementMm) => {
        const at = (i: number, length: number) => pressFit({ pinMm: [bore * (1 + i)], boreMm: [bore], engagementMm: length })
        const plain = at(part, engagementMm)
        expect(at(2 * part, engagementMm).pressureMPa / plain.pressureMPa).toBeCloseTo(2, 6)
        expect(at(part, 2 * engagementMm).pressForceKN.low / plain.pressForceKN.low).toBeCloseTo(2, 9)
        expect(plain.pressForceKN.high / plain.pressForceKN.low).toBeCloseTo(0.2 / 0.12, 9)
        expect(plain.torqueNm.low / plain.pressForceKN.low).toBeCloseTo(bore / 2, 9)
        // Short form for a solid pin, the same steel, a ring of twice the bore: p = (i/d)(E/2)(1 − d²/D²).
        expect(plain.pressureMPa / (part * (205_000 / 2) * (1 - 0.25))).toBeCloseTo(1, 6)
      }),
    )
  })

  it('does not see the size: everything twice as big holds the same pressure', () => {
    fc.assert(
      fc.property(
        diameter,
        share,
        fc.double({ min: 1.2, max: 2.4, noNaN: true }),
        fc.double({ min: 0, max: 0.7, noNaN: true }),
        (bore, part, ring, hole) => {
          const at = (k: number) =>
            pressFit({
              pinMm: [k * bore * (1 + part)],
              boreMm: [k * bore],
              engagementMm: k * 20,
              webOuterMm: k * bore * ring,
              pinHoleMm: k * bore * hole,
            })
          expect(at(2).pressureMPa / at(1).pressureMPa).toBeCloseTo(1, 6)
          expect(at(2).boreHoopMPa / at(1).boreHoopMPa).toBeCloseTo(1, 6)
        },
      ),
    )
  })

  it('a thinner ring, a hollow pin and a softer metal hold less', () => {
    const base: FitInput = { pinMm: [22.07], boreMm: [22], engagementMm: 18 }
    const solid = pressFit(base).pressureMPa
    for (const part of [{ webOuterMm: 33 }, { pinHoleMm: 12 }, { web: { youngsGPa: 110 } }, { pin: { youngsGPa: 110 } }]) {
      expect(pressFit({ ...base, ...part }).pressureMPa).toBeLessThan(solid)
    }
    expect(pressFit({ ...base, web: {}, pin: {} })).toEqual(pressFit(base))
  })

  it('a loose pin holds nothing and stops', () => {
    const loose = pressFit({ pinMm: [21.99], boreMm: [22], engagementMm: 18 })
    expect(loose).toMatchObject({
      interferenceMm: expect.closeTo(-0.01, 12),
      pressureMPa: 0,
      boreHoopMPa: 0,
      pressForceKN: { low: 0, high: 0 },
      verdict: 'stop',
    })
    expect(pressFit({ pinMm: [22], boreMm: [22], engagementMm: 18, floorMm: 0 })).toMatchObject({ interferenceMm: 0, verdict: 'go' })
  })

  it.each<[string, number, Partial<FitInput>, string]>([
    ['at the scrap floor of 0.0022 × bore, in spite of its last binary digit', 22.0484, {}, 'go'],
    ['a micrometre under it', 22.0474, {}, 'stop'],
    ['over the scrap floor, under the shop floor', 22.05, { shopFloorMm: 0.062 }, 'below-shop-floor'],
    ['at the shop floor', 22.062, { shopFloorMm: 0.062 }, 'go'],
    ['over a floor of one’s own', 22.031, { floorMm: 0.03 }, 'go'],
    ['under a floor of one’s own', 22.06, { floorMm: 0.061, shopFloorMm: 0.02 }, 'stop'],
  ])('verdict %s', (_name, pin, part, verdict) => {
    expect(pressFit({ pinMm: [pin], boreMm: [22], engagementMm: 18, ...part }).verdict).toBe(verdict)
  })

  it.each<[string, Partial<FitInput>, RegExp]>([
    ['no pin reading', { pinMm: [] }, /^fit needs at least one pin reading$/],
    ['no bore reading', { boreMm: [] }, /^fit needs at least one bore reading$/],
    ['a pin that is no number', { pinMm: [22.07, Number.NaN] }, /^fit needs pinMm/],
    ['a bore of 301', { boreMm: [301] }, /^fit needs boreMm/],
    ['a ring no bigger than the bore', { webOuterMm: 22 }, /^fit needs webOuterMm more than/],
    ['a hole no smaller than the bore', { pinHoleMm: 22 }, /^fit needs pinHoleMm less than/],
    ['friction the wrong way round', { friction: { low: 0.2, high: 0.1 } }, /^fit needs friction.low/],
    ['no stiffness', { web: { youngsGPa: 0 } }, /^fit needs web.youngsGPa/],
    ['a ratio of a half', { pin: { poisson: 0.5 } }, /^fit needs pin.poisson/],
    ['a floor below nothing', { floorMm: -0.01 }, /^fit needs floorMm/],
    ['an engagement that is no number', { engagementMm: Number.NaN }, /^fit needs engagementMm/],
  ])('refuses %s', (_name, part, words) => {
    expect(() => pressFit({ pinMm: [22.07], boreMm: [22], engagementMm: 18, ...part })).toThrow(words)
  })

  it('answers finite numbers at the edges of what it takes', () => {
    const extremes: FitInput[] = [
      { pinMm: [300], boreMm: [1], engagementMm: 1e9, webOuterMm: 1 + 1e-15, web: { youngsGPa: 100_000 } },
      { pinMm: [300], boreMm: [299.9], engagementMm: 1e9, pinHoleMm: 299.8, pin: { youngsGPa: 0.001 } },
      { pinMm: [1], boreMm: [300], engagementMm: 0 },
    ]
    for (const input of extremes) expect(JSON.stringify(pressFit(input))).not.toContain('null')
  })
})
