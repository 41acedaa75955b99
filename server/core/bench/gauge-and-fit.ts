import { NUMBER, needWithin } from '#core/limits.ts'

/** A tonne on the gauge of a press is the weight of a tonne in standard gravity (3rd CGPM, 1901). */
export const KN_PER_TONNE = 9.80665

/** What the fit lets expect of the gauge, t, from the least friction to the greatest. */
export interface GaugeBand {
  lowTonnes: number
  highTonnes: number
}

export const GAUGE_VERDICTS = ['far-below', 'below', 'within', 'above', 'far-above'] as const
export type GaugeVerdict = (typeof GAUGE_VERDICTS)[number]

export interface GaugeRead {
  verdict: GaugeVerdict
  /** What to look for; absent within the band. */
  says?: string
}

/** Oil moves the gauge by a third, so that a peak a third outside the band is no longer the oil's alone. Common practice, no source. */
const FAR = 1 / 3

const WORDS: Readonly<Record<Exclude<GaugeVerdict, 'within'>, string>> = {
  'far-below': 'Far below: the bore is belled, or wet with the wrong oil. Measure it at both depths.',
  below: 'Below: look for a belled bore or the wrong oil.',
  above: 'Above: look for galling or a cocked pin.',
  'far-above': 'Far above: it galls, or the pin is cocked. Stop, and look before it goes on.',
}

/**
 * A peak of the gauge beside the band that the fit foretells.
 *
 * @example gaugeRead(3.2, { lowTonnes: 5.3, highTonnes: 8.9 }).verdict // 'far-below'
 * @example gaugeRead(8.9, { lowTonnes: 5.3, highTonnes: 8.9 }).verdict // 'within'
 *
 * Tonnes, 0 and more; refuses a band the wrong way round (RangeError). Source: common practice, no source.
 */
export function gaugeRead(peakTonnes: number, band: GaugeBand): GaugeRead {
  const { lowTonnes, highTonnes } = band
  for (const [name, value] of Object.entries({ peakTonnes, lowTonnes, highTonnes }))
    needWithin('gaugeRead', name, value, { min: 0, max: NUMBER.max })
  if (lowTonnes > highTonnes) throw new RangeError('gaugeRead needs lowTonnes no more than highTonnes')
  const verdict = verdictOf(peakTonnes, band)
  return verdict === 'within' ? { verdict } : { verdict, says: WORDS[verdict] }
}

function verdictOf(peak: number, { lowTonnes, highTonnes }: GaugeBand): GaugeVerdict {
  if (peak < lowTonnes * (1 - FAR)) return 'far-below'
  if (peak < lowTonnes) return 'below'
  if (peak > highTonnes * (1 + FAR)) return 'far-above'
  return peak > highTonnes ? 'above' : 'within'
}

/** The band of a force, in tonnes. @example gaugeBand({ low: 52, high: 87.3 }).lowTonnes.toFixed(1) // '5.3' */
export function gaugeBand(pressForceKN: { low: number; high: number }): GaugeBand {
  return { lowTonnes: pressForceKN.low / KN_PER_TONNE, highTonnes: pressForceKN.high / KN_PER_TONNE }
}
