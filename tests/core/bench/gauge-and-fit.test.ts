import { describe, expect, it } from 'vitest'
import { gaugeBand, gaugeRead } from '#core/bench/gauge-and-fit.ts'
import { fit as fitSum } from '#core/fit.ts'

describe('the peak of the gauge beside the fit', () => {
  // A pin of 28 over 20 with 0.090 of fit goes at 5.3 to 8.9 t: Lamé's cylinders, friction 0.12 to 0.20.
  const band = gaugeBand(fitSum({ pinMm: [28.09], boreMm: [28], engagementMm: 20 }).pressForceKN)

  it('has the band of the fit in tonnes', () => {
    expect(band.lowTonnes).toBeCloseTo(5.3, 1)
    expect(band.highTonnes).toBeCloseTo(8.9, 1)
  })

  // Oil moves the gauge by a third: common practice, no source.
  it.each([
    [3.2, 'far-below'],
    [3.7, 'below'],
    [5.2, 'below'],
    [5.5, 'within'],
    [8.8, 'within'],
    [9.1, 'above'],
    [11.7, 'above'],
    [12.5, 'far-above'],
  ] as const)('%f t is %s', (peak, verdict) => {
    expect(gaugeRead(peak, band).verdict).toBe(verdict)
  })

  it('says what to look for, and nothing within the band', () => {
    expect(gaugeRead(2, band).says).toContain('belled, or wet with the wrong oil')
    expect(gaugeRead(14, band).says).toContain('it galls, or the pin is cocked')
    expect(gaugeRead(7, band)).toEqual({ verdict: 'within' })
  })

  it('refuses what is no number and a band the wrong way round', () => {
    expect(() => gaugeRead(Number.NaN, band)).toThrow(RangeError)
    expect(() => gaugeRead(5, { lowTonnes: 6, highTonnes: 4 })).toThrow(RangeError)
  })
})
