import { expect, it } from 'vitest'
import { warmPart } from '#core/bench/warm-part.ts'

// 11.5e-6/K: JCGM 100:2008, H.1; 20 °C: ISO 1.
it('says by how much a warm crank reads wide: 60 mm, +40 K 0.028, +10 K 0.007', () => {
  expect(warmPart(60, 60)?.wideMm).toBeCloseTo(0.0276, 4)
  expect(warmPart(60, 30)?.wideMm).toBeCloseTo(0.0069, 4)
  expect(warmPart(60, 5)?.wideMm).toBeCloseTo(-0.0104, 4)
})

it('says nothing within 3 K, both ways', () => {
  expect(warmPart(60, 23)).toBeNull()
  expect(warmPart(60, 17)).toBeNull()
  expect(warmPart(60, 23.1)?.awayK).toBeCloseTo(3.1, 9)
  expect(warmPart(60, 16.9)?.awayK).toBeCloseTo(-3.1, 9)
})

it('refuses what is no length or temperature', () => {
  expect(() => warmPart(Number.NaN, 20)).toThrow(RangeError)
  expect(() => warmPart(60, 2000)).toThrow(RangeError)
})
