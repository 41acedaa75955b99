import { scaleLinear } from 'd3-scale'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { linearScale } from '#web/ui/linear-scale.ts'

test('maps, rounds its ends and finds its round figures as the scale of d3-scale 4 does', () => {
  const thousandths = fc.integer({ min: 1, max: 500_000 }).map((whole) => whole / 1_000)
  fc.assert(
    fc.property(thousandths, fc.integer({ min: 2, max: 6 }), (most, count) => {
      const theirs = scaleLinear([0, most], [200, 20]).nice(count)
      const ours = linearScale([0, most], [200, 20], count)
      for (const share of [0, 0.1, 0.5, 1]) expect(ours(share * most)).toBeCloseTo(theirs(share * most), 6)
      const ticks = theirs.ticks(count)
      expect(ours.ticks(count)).toHaveLength(ticks.length)
      for (const [place, tick] of ours.ticks(count).entries()) expect(tick).toBeCloseTo(ticks[place]!, 9)
      expect(ours.ticks(count).map(ours.tickFormat(count))).toEqual(
        ticks.map(theirs.tickFormat(count)).map((text) => text.replace('\u2212', '-').replace(',', '')),
      )
    }),
    { numRuns: 300 },
  )
})

test('a span of nothing lies in the middle, and what is not finite is refused', () => {
  expect(linearScale([5, 5], [0, 10])(5)).toBe(5)
  expect(() => linearScale([0, Number.NaN], [0, 10])).toThrow(RangeError)
})
