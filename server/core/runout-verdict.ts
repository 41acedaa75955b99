import type { WayOfHolding } from '#core/crank-shape.ts'
import { BINARY_DUST_MM } from '#core/limits.ts'

/** The two ends of a crank, as the bench names them. */
export const SIDES = ['left', 'right'] as const
export type Side = (typeof SIDES)[number]

/** Whether a length is not above a limit; the limit itself is still within, also where a sum (0.01 + 0.008) misses it by a last bit. */
export function isWithin(valueMm: number, limitMm: number): boolean {
  return valueMm - limitMm <= BINARY_DUST_MM
}

/** What the crank lies on under the dial: its bare ground seats, or the bearings fitted on them. */
export type DialSupport = 'bare-seats' | 'bearings'

/**
 * What a full swing of the dial is worth (k = 2), until the doubt sum of that very set-up says it better.
 * Source: computed from the usual errors of dials, blocks and ordinary bearings; common practice.
 */
export const GIVE_OR_TAKE = [
  { dialStepMm: 0.001, support: 'bare-seats', giveOrTakeMm: 0.005 },
  { dialStepMm: 0.01, support: 'bare-seats', giveOrTakeMm: 0.008 },
  { dialStepMm: 0.01, support: 'bearings', giveOrTakeMm: 0.017 },
] as const

const COARSEST_STEP_MM = 0.1

/**
 * The give-or-take of one full swing of the dial, in mm, from the table above. A dial between two rows takes the coarser
 * row. On bearings the ring decides and not the dial, so that a fine dial there is worth no more than a hundredth one.
 * A dial coarser than 0.01 takes the row of 0.01 in proportion to its step, which is on the safe side.
 *
 * Refuses (RangeError) a step of 0 or less, over 0.1, or not a number.
 * Source: computed table and common practice, as GIVE_OR_TAKE; the two rules between the rows: common practice, no source.
 *
 * @example giveOrTakeFor({ instrumentStepMm: 0.01, support: 'bearings' }) // 0.017
 */
export function giveOrTakeFor(setUp: { instrumentStepMm: number; support: DialSupport }): number {
  const { instrumentStepMm, support } = setUp
  if (!(instrumentStepMm > 0 && instrumentStepMm <= COARSEST_STEP_MM)) {
    throw new RangeError('giveOrTakeFor needs a dial step over 0 and up to 0.1 mm')
  }
  const rows = GIVE_OR_TAKE.filter((row) => row.support === support)
  const row = rows.find((candidate) => isWithin(instrumentStepMm, candidate.dialStepMm))
  if (row !== undefined) return row.giveOrTakeMm
  const coarsest = rows[rows.length - 1]!
  return coarsest.giveOrTakeMm * (instrumentStepMm / coarsest.dialStepMm)
}

export const RUNOUT_VERDICTS = ['within', 'in-the-doubt-band', 'over'] as const
export type RunoutVerdict = (typeof RUNOUT_VERDICTS)[number]

/** By which rule a figure counts as within: full-guard keeps the whole give-or-take away from the limit, simple leaves it out. */
export const GUARD_RULES = ['full-guard', 'simple'] as const
export type GuardRule = (typeof GUARD_RULES)[number]

/**
 * What a certificate says of one end: within where the reading with its give-or-take added does not pass the limit, over
 * where the reading alone passes it, and between the two in the doubt band. Decided on the figures as they are, unrounded.
 * By the simple rule the give-or-take is left out, and nothing lies between.
 *
 * All three in mm, 0 or more; refuses (RangeError) anything else.
 * Source: guarded and simple acceptance, ILAC-G8:09/2019 (from memory), with a guard band of the whole give-or-take.
 *
 * @example runoutVerdict({ tirMm: 0.014, limitMm: 0.02, giveOrTakeMm: 0.008 }) // 'in-the-doubt-band'
 * @example runoutVerdict({ tirMm: 0.014, limitMm: 0.02, giveOrTakeMm: 0.008, rule: 'simple' }) // 'within'
 */
export function runoutVerdict(reading: { tirMm: number; limitMm: number; giveOrTakeMm: number; rule?: GuardRule }): RunoutVerdict {
  const { tirMm, limitMm, giveOrTakeMm, rule = 'full-guard' } = reading
  requireLengths('runoutVerdict', [tirMm, limitMm, giveOrTakeMm])
  if (!isWithin(tirMm, limitMm)) return 'over'
  return rule === 'simple' || isWithin(tirMm + giveOrTakeMm, limitMm) ? 'within' : 'in-the-doubt-band'
}

export const LIMIT_OUTCOMES = ['inside-house', 'over-house-inside-maker', 'over-house', 'over-maker'] as const
export type LimitOutcome = (typeof LIMIT_OUTCOMES)[number]

export const LIMIT_OUTCOME_WORDS: Readonly<Record<LimitOutcome, string>> = {
  'inside-house': 'inside our limit',
  'over-house-inside-maker': 'over our limit, inside the maker’s',
  'over-house': 'over our limit',
  'over-maker': 'over the maker’s limit',
}

/**
 * Where one reading itself stands between the limit of the house and the limit of the maker, both for the place where the
 * dial stood. A crank over the one and inside the other has its own words: the shop would go on, the maker would not ask.
 * makerLimitMm is null where the maker gives none, or none that can be compared at that place.
 *
 * All in mm, 0 or more; refuses (RangeError) anything else. Source: common practice, no source.
 *
 * @example limitOutcome({ tirMm: 0.024, houseLimitMm: 0.02, makerLimitMm: 0.03 }) // 'over-house-inside-maker'
 */
export function limitOutcome(reading: { tirMm: number; houseLimitMm: number; makerLimitMm: number | null }): LimitOutcome {
  const { tirMm, houseLimitMm, makerLimitMm } = reading
  requireLengths('limitOutcome', [tirMm, houseLimitMm, makerLimitMm ?? 0])
  if (makerLimitMm !== null && !isWithin(tirMm, makerLimitMm)) return 'over-maker'
  if (isWithin(tirMm, houseLimitMm)) return 'inside-house'
  return makerLimitMm === null ? 'over-house' : 'over-house-inside-maker'
}

/** How far the dial may stand from the place that the limit names and still count as there. Common practice, no source. */
export const PLACE_TOLERANCE_MM = 0.5

/**
 * Whether a reading was taken where, and held as, the limit says: a limit for another place says nothing about it.
 * Places in mm outward from the middle of the main seat (inward below 0). Rollers and V-blocks carry a crank alike.
 *
 * Refuses (RangeError) a place that is not a number. Source: common practice, no source.
 *
 * @example isAtStatedPlace({ readAtMm: 45.3, readHeld: 'rollers-bare', limitAtMm: 45, limitHeld: 'v-blocks-bare' }) // true
 */
export function isAtStatedPlace(reading: {
  readAtMm: number
  readHeld: WayOfHolding
  limitAtMm: number
  limitHeld: WayOfHolding
}): boolean {
  const { readAtMm, readHeld, limitAtMm, limitHeld } = reading
  if (!Number.isFinite(readAtMm) || !Number.isFinite(limitAtMm)) throw new RangeError('isAtStatedPlace needs both places in mm')
  return carriedAs(readHeld) === carriedAs(limitHeld) && isWithin(Math.abs(readAtMm - limitAtMm), PLACE_TOLERANCE_MM)
}

function carriedAs(held: WayOfHolding): string {
  return held.replace('rollers', 'v-blocks')
}

function requireLengths(name: string, lengthsMm: readonly number[]): void {
  for (const length of lengthsMm) {
    if (!(Number.isFinite(length) && length >= 0)) throw new RangeError(`${name} needs lengths of 0 mm or more`)
  }
}
