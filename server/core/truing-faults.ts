import { clockAngle, cosDegrees, sinDegrees } from '#core/clock-angle.ts'

/**
 * The crank frame: pin at 12 o'clock, clock angle clockwise seen from the right-hand (drive) end, the same marks for both
 * dials. Radial = towards the pin, tangential = towards mark 3.
 */
export interface Arrow {
  radialMm: number
  tangentialMm: number
}

/** Where the crank is held and where the dials stand. */
export interface SetUp {
  /** Crank centre (pin mid-plane) to where each shaft is held, mm, more than 0. */
  supportLeftMm: number
  supportRightMm: number
  /** From that support to the dial, mm: + outboard (away from the webs), − inboard. */
  dialLeftMm: number
  dialRightMm: number
}

/** All that can be wrong between two straight shafts: two offsets and two tilts. */
export interface Faults {
  /** Right half carried towards mark 3 (+), mm at the crank centre. */
  swingMm: number
  /** Webs wider apart opposite the pin (+), radians. */
  openRad: number
  /** Right shaft away towards the pin (+), mm at the crank centre. No hand move cures it. */
  throwMm: number
  /** Right shaft leaning to mark 3 going outward (+), radians. No hand move cures it. */
  cockedRad: number
}

/** What a dial says of one end over a turn. */
export interface EndReading {
  /** Full swing of the dial, twice the eccentricity. */
  tirMm: number
  /** Clock angle of the high spot, [0, 360); 0 when there is no swing. */
  highAtDeg: number
}

/** Half the full swing as an arrow to the high spot. @example arrowOf({ tirMm: 0.1, highAtDeg: 90 }) // { radialMm: 0, tangentialMm: 0.05 } */
export function arrowOf(end: EndReading): Arrow {
  return { radialMm: (end.tirMm / 2) * cosDegrees(end.highAtDeg), tangentialMm: (end.tirMm / 2) * sinDegrees(end.highAtDeg) }
}

/** Full swing and high spot of an arrow. @example endOf({ radialMm: 0, tangentialMm: -0.03 }) // { tirMm: 0.06, highAtDeg: 270 } */
export function endOf(arrow: Arrow): EndReading {
  return { tirMm: 2 * Math.hypot(arrow.radialMm, arrow.tangentialMm), highAtDeg: clockAngle(arrow.radialMm, arrow.tangentialMm) }
}

/** What the dial reads with a mark under it, the mean taken away. @example dialAt({ radialMm: 0.02, tangentialMm: 0.01 }, 180) // -0.02 */
export function dialAt(arrow: Arrow, clockDeg: number): number {
  return arrow.radialMm * cosDegrees(clockDeg) + arrow.tangentialMm * sinDegrees(clockDeg)
}

/**
 * The four faults behind what both dials read.
 *
 * @example faultsFrom({ radialMm: 0.0225, tangentialMm: 0 }, { radialMm: 0.026, tangentialMm: 0 }, { supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52 }).openRad // 0.001
 *
 * Exact for rigid halves with small faults; a dial at 0 from its support tells nothing and is refused by the callers.
 * Source: geometry of two straight shafts, worked for this book and checked against a rigid-body model in three dimensions.
 */
export function faultsFrom(left: Arrow, right: Arrow, setUp: SetUp): Faults {
  const { supportLeftMm: a, supportRightMm: b, dialLeftMm: p, dialRightMm: q } = setUp
  return {
    swingMm: (a * left.tangentialMm) / p - (b * right.tangentialMm) / q,
    openRad: left.radialMm / p + right.radialMm / q,
    throwMm: (a * left.radialMm) / p - (b * right.radialMm) / q,
    cockedRad: left.tangentialMm / p + right.tangentialMm / q,
  }
}

/**
 * The forward model: what both dials read when the faults are known. The inverse of `faultsFrom`.
 *
 * @example readingsFrom({ swingMm: 0, openRad: 0.001, throwMm: 0, cockedRad: 0 }, { supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52 }).left // { radialMm: 0.0225, tangentialMm: 0 }
 *
 * Source: as `faultsFrom`.
 */
export function readingsFrom(faults: Faults, setUp: SetUp): { left: Arrow; right: Arrow } {
  const { supportLeftMm: a, supportRightMm: b, dialLeftMm: p, dialRightMm: q } = setUp
  const left = p / (a + b)
  const right = q / (a + b)
  return {
    left: {
      radialMm: left * (faults.throwMm + b * faults.openRad),
      tangentialMm: left * (faults.swingMm + b * faults.cockedRad),
    },
    right: {
      radialMm: right * (a * faults.openRad - faults.throwMm),
      tangentialMm: right * (a * faults.cockedRad - faults.swingMm),
    },
  }
}
