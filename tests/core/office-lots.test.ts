import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { compare } from '#core/compare.ts'
import { holm, lotsAgainstOthers, testable } from '#core/office-lots.ts'

describe('holm', () => {
  // Holm (1979), worked by hand from its rule: 4 × 0.005, 3 × 0.01, 2 × 0.03, then never under the one before.
  test('a worked example', () => expect(holm([0.01, 0.04, 0.03, 0.005])).toEqual([0.03, 0.06, 0.06, 0.02]))

  test('never falls below the bare p nor above 1, and keeps the order', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 20 }), (ps) => {
        const raised = holm(ps)
        ps.forEach((p, index) => {
          expect(raised[index]).toBeGreaterThanOrEqual(p)
          expect(raised[index]).toBeLessThanOrEqual(1)
          for (const [other, q] of ps.entries()) if (p < q) expect(raised[index]!).toBeLessThanOrEqual(raised[other]!)
        })
      }),
    )
    expect(() => holm([1.2])).toThrow('holm needs probabilities from 0 to 1')
  })
})

describe('testable', () => {
  // Tarone (1990), worked by hand from his rule: with K = 2 both 0.001 and 0.02 are at or under 0.05 / 2, and no more than 2 are.
  test('a worked example', () => expect(testable([0.001, 0.02, 0.03, 0.4], 0.05)).toEqual([true, true, false, false]))

  test('keeps at most as many tests as it counts for, and never a greater least p than a dropped one', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 30 }), (least) => {
        const kept = testable(least, 0.05)
        least.forEach((p, index) => {
          if (kept[index]) expect(p).toBeLessThanOrEqual(0.05)
          for (const [other, q] of least.entries()) if (kept[other] && p < q) expect(kept[index]).toBe(true)
        })
      }),
    )
    expect(() => testable([0.1], 2)).toThrow('testable needs probabilities from 0 to 1')
  })
})

describe('lotsAgainstOthers', () => {
  test('lots of one crank, which could never show anything, do not hide a bad one', () => {
    const single = Array.from({ length: 200 }, (_, index) => ({ key: `single ${index}`, n: 1, back: index < 5 ? 1 : 0 }))
    const against = lotsAgainstOthers([{ key: 'S-0936', n: 14, back: 4 }, ...single])
    expect(against.get('S-0936')!.pHolm).toBe(against.get('S-0936')!.p)
    expect(against.get('S-0936')!.notChance).toBe(true)
    expect(against.get('single 0')).toMatchObject({ pHolm: 1, notChance: false })
  })

  test('a lot of 14 with 4 back against 274 with 5 is not chance, even beside nineteen other lots', () => {
    const other = Array.from({ length: 19 }, (_, index) => ({ key: `other ${index}`, n: index < 8 ? 15 : 14, back: index < 5 ? 1 : 0 }))
    const against = lotsAgainstOthers([{ key: 'S-0936', n: 14, back: 4 }, ...other])
    const lot = against.get('S-0936')!
    expect(lot.others).toEqual({ n: 8 * 15 + 11 * 14, back: 5 })
    const plain = compare({ a: { failures: 4, total: 14 }, b: { failures: 5, total: 274 } })
    expect(plain.ok && plain.value.p).toBe(lot.p)
    // Twenty tests: the least p times twenty.
    expect(lot.pHolm).toBeCloseTo(20 * lot.p, 12)
    expect(lot.notChance).toBe(true)
    expect([...against.values()].filter(({ notChance }) => notChance)).toHaveLength(1)
  })

  test('one back of three is chance among many, and a lot that fails less is never called out', () => {
    const many = Array.from({ length: 30 }, (_, index) => ({ key: `lot ${index}`, n: 10, back: 0 }))
    expect(lotsAgainstOthers([{ key: 'small', n: 3, back: 1 }, ...many]).get('small')!.notChance).toBe(false)
    const better = lotsAgainstOthers([
      { key: 'good', n: 200, back: 0 },
      { key: 'bad', n: 200, back: 40 },
    ])
    expect(better.get('good')!.pHolm).toBeLessThan(0.001)
    expect(better.get('good')!.notChance).toBe(false)
    expect(better.get('bad')!.notChance).toBe(true)
  })

  test('a single lot has nothing to stand against', () => {
    expect(lotsAgainstOthers([{ key: 'only', n: 5, back: 5 }]).get('only')).toEqual({
      others: { n: 0, back: 0 },
      p: 1,
      pHolm: 1,
      notChance: false,
    })
  })
})
