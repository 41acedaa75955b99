/** Smallest and greatest value that is taken; both are taken themselves. */
export interface Range {
  readonly min: number
  readonly max: number
}

/** Ranges of what the bench sums take. The contract refuses what is outside with a 400, the core with a RangeError. */
export const READING_MM: Range = { min: -50, max: 50 }
export const TIR_MM: Range = { min: 0, max: 20 }
export const STROKE_MM: Range = { min: 10, max: 300 }
export const SUPPORT_MM: Range = { min: 1, max: 1000 }
/** How far a dial stands from its support, whichever side: the sign says outboard (+) or inboard (−). */
export const DIAL_DISTANCE_MM: Range = { min: 1, max: 1000 }
export const RIM_RADIUS_MM: Range = { min: 5, max: 500 }
/** Pin, bore and the ring of metal round it. */
export const DIAMETER_MM: Range = { min: 1, max: 300 }
export const PIN_HOLE_MM: Range = { min: 0, max: 300 }
export const HOURS: Range = { min: 0.01, max: 10_000 }
export const COUNT_MOST = 1e9
/** Any other number. */
export const NUMBER: Range = { min: -1e9, max: 1e9 }
/** Any other length, thickness or play that cannot be less than nothing. */
export const LENGTH_MM: Range = { min: 0, max: 1e9 }
export const PART_TEMPERATURE_C: Range = { min: -100, max: 1000 }
export const YOUNGS_GPA: Range = { min: 0.001, max: 100_000 }
export const POISSON: Range = { min: 0, max: 0.499 }
export const FRICTION: Range = { min: 0, max: 10 }
/** 1 itself would need an interval without end. */
export const CONFIDENCE: Range = { min: 0.01, max: 0.999_999 }

export const WELD_AMPS: Range = { min: 1, max: 1000 }
/** Most signs that a kit's maker, part number and lot may have. */
export const KIT_SIGNS = { maker: 80, part: 80, lot: 60 } as const

export const COUNT: Range = { min: 0, max: COUNT_MOST }
/** Any other number that cannot be less than nothing: a life in use, an exposure, a standard deviation. */
export const AMOUNT: Range = { min: 0, max: 1e9 }
/** Under one degree of freedom Student's t says nothing that helps. */
export const DEGREES_OF_FREEDOM: Range = { min: 1, max: 1e9 }

export const LIST_MOST = 10_000
export const SUMS_BODY_BYTES = 256 * 1024
export const SURVIVAL_ITEMS_MOST = 100_000
export const SURVIVAL_BODY_BYTES = 4 * 1024 * 1024
/** The log-rank test works with a square of as many rows as there are groups. */
export const SURVIVAL_GROUPS_MOST = 200

/**
 * Lengths are typed as decimal fractions and worked in binary ones. A comparison that decides something looks away
 * from a millionth of a micrometre, so that a reading exactly at a limit is not refused for the sake of its last bit.
 */
export const BINARY_DUST_MM = 1e-9

/** Throws a RangeError in the one form of the core when a value is not a number within its range. */
export function needWithin(sum: string, name: string, value: number | undefined, range: Range): asserts value is number {
  if (value !== undefined && value >= range.min && value <= range.max) return
  throw new RangeError(`${sum} needs ${name} from ${range.min} to ${range.max}, not ${value}`)
}

/** The same for a whole number, such as a count. */
export function needWhole(sum: string, name: string, value: number, range: Range): void {
  needWithin(sum, name, value, range)
  if (!Number.isInteger(value)) throw new RangeError(`${sum} needs ${name} as a whole number, not ${value}`)
}

/** Refuses (RangeError) a list longer than a sum takes. @example needListOf('a sum', 'readings', [1, 2]) // undefined */
export function needListOf(sum: string, name: string, list: readonly unknown[], most = LIST_MOST): void {
  if (list.length > most) throw new RangeError(`${sum} needs no more than ${most} ${name}, not ${list.length}`)
}
