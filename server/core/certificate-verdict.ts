import type { CertificateVerdict } from '#core/certificate.ts'
import { type GuardRule, isWithin, limitOutcome, runoutVerdict } from '#core/runout-verdict.ts'

/**
 * What the sheet says of one end: by our own limit with the give-or-take added, and for a figure over it also how it lies
 * to the maker's limit, where that is for the same place.
 *
 * @example endVerdict({ tirMm: 0.014, giveOrTakeMm: 0.005, houseLimitMm: 0.02 }) // 'within'
 * @example endVerdict({ tirMm: 0.024, giveOrTakeMm: 0.005, houseLimitMm: 0.02, makerLimitMm: 0.03 }) // 'over-ours-inside-makers'
 *
 * All mm, 0 or more; refuses (RangeError) anything else. Decided unrounded. Without a limit of ours: 'no-limit'. By the
 * simple rule the give-or-take is left out, and nothing lies in a doubt band.
 * Source: guarded acceptance, ILAC-G8:09/2019 (from memory); the words for over ours and inside the maker's: common practice, no source.
 */
export function endVerdict(end: {
  tirMm: number
  giveOrTakeMm: number
  houseLimitMm?: number
  makerLimitMm?: number
  rule?: GuardRule
}): CertificateVerdict {
  const { tirMm, giveOrTakeMm, houseLimitMm, makerLimitMm, rule = 'full-guard' } = end
  if (houseLimitMm === undefined) return 'no-limit'
  const byOurs = runoutVerdict({ tirMm, limitMm: houseLimitMm, giveOrTakeMm, rule })
  if (byOurs !== 'over' || makerLimitMm === undefined) return byOurs
  if (limitOutcome({ tirMm, houseLimitMm, makerLimitMm }) !== 'over-house-inside-maker') return 'over'
  return rule === 'simple' || isWithin(tirMm + giveOrTakeMm, makerLimitMm) ? 'over-ours-inside-makers' : 'over-ours-doubtful-by-makers'
}

/**
 * What the sheet says of a figure with a window, by the same rule at both of its sides; several places are judged by the
 * worst of them.
 *
 * @example windowVerdict({ mm: [64.0, 64.01], giveOrTakeMm: 0.01, minMm: 63.95, maxMm: 64.05 }) // 'within'
 * @example windowVerdict({ mm: [0.045], giveOrTakeMm: 0.01, maxMm: 0.05 }) // 'in-the-doubt-band'
 *
 * All mm; refuses (RangeError) no figure at all, one that is not finite, and a give-or-take under 0.
 */
export function windowVerdict(row: {
  mm: readonly number[]
  giveOrTakeMm: number
  minMm?: number
  maxMm: number
  rule?: GuardRule
}): CertificateVerdict {
  const { mm, giveOrTakeMm, minMm, maxMm, rule = 'full-guard' } = row
  const finite = [...mm, giveOrTakeMm, maxMm, minMm ?? 0].every(Number.isFinite)
  if (mm.length === 0 || !finite || giveOrTakeMm < 0)
    throw new RangeError('windowVerdict needs finite figures and a give-or-take of 0 or more')
  const least = Math.min(...mm)
  const greatest = Math.max(...mm)
  if (!isWithin(greatest, maxMm)) return 'over'
  if (minMm !== undefined && !isWithin(minMm, least)) return 'under'
  const guarded = isWithin(greatest + giveOrTakeMm, maxMm) && (minMm === undefined || isWithin(minMm, least - giveOrTakeMm))
  return rule === 'simple' || guarded ? 'within' : 'in-the-doubt-band'
}
