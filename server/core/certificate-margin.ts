import { type CertificateData, type CertificateVerdict, wasRead } from '#core/certificate.ts'

/** From good to bad, as somebody reads it who looks for what may be wrong. */
const WORSE: readonly CertificateVerdict[] = [
  'no-limit',
  'within',
  'in-the-doubt-band',
  'not-read',
  'over-ours-inside-makers',
  'over-ours-doubtful-by-makers',
  'under',
  'over',
]

/** How near a certificate stood to our limit of runout. */
export interface CertificateMargin {
  /** The worse of the two ends. */
  verdict: CertificateVerdict
  /** Our limit less the reading and its give-or-take, mm, at the end that has less; below 0 past it; absent where no end has a limit. */
  marginMm?: number
}

/**
 * The worse verdict of the two ends, and how much room the nearer one had to our limit with its give-or-take added: what an
 * instrument found wrong afterwards would have to be out by before the verdict changes.
 *
 * @example certificateMargin({ left: { final: { mm: 0.01, stepMm: 0.001 }, giveOrTakeMm: 0.005, houseLimitMm: 0.02, verdict: 'within' }, right: { final: { notRead: 'seized' }, verdict: 'not-read' } }) // { verdict: 'not-read', marginMm: 0.005 }
 *
 * Lengths in mm. Common practice, no source.
 */
export function certificateMargin({ left, right }: Pick<CertificateData, 'left' | 'right'>): CertificateMargin {
  const ends = [left, right]
  const rooms = ends.flatMap(({ final, giveOrTakeMm = 0, houseLimitMm }) =>
    houseLimitMm === undefined || !wasRead(final) ? [] : [houseLimitMm - final.mm - giveOrTakeMm],
  )
  const verdict = ends.reduce<CertificateVerdict>(
    (worst, end) => (WORSE.indexOf(end.verdict) > WORSE.indexOf(worst) ? end.verdict : worst),
    'no-limit',
  )
  // A millionth of a millimetre is the dust of decimal figures written in binary.
  return rooms.length === 0 ? { verdict } : { verdict, marginMm: Math.round(Math.min(...rooms) * 1e6) / 1e6 }
}
