/** Of an angle read with a degree wheel and a pointer at both dead centres; common practice, no source. */
export const PHASE_GIVE_OR_TAKE_DEG = 0.1

export interface PhaseRead {
  /** Where the throw stands from throw 1, clockwise from the right-hand end. */
  measuredDeg: number
  /** Where it should stand. */
  nominalDeg: number
  /** By how much it may be out, either way. */
  limitDeg: number
}

export interface PhaseAnswer {
  /** Measured less nominal, from −180 to 180: + is too far clockwise. */
  errorDeg: number
  verdict: 'within' | 'over'
}

// A millionth of a degree is the dust of decimal figures written in binary.
const DUST_DEG = 1e-6

/**
 * How far a throw stands from where it should: measured less nominal, the short way round, and within where that is not
 * more than the limit either way, the limit itself included. Angles in degrees; measured and nominal from −360 to 720, so
 * that a wheel read past its zero is understood; the limit over 0 to 90.
 *
 * Refuses (RangeError) anything else. Source: common practice, no source.
 *
 * @example phaseError({ measuredDeg: 180.4, nominalDeg: 180, limitDeg: 0.5 }).verdict // 'within'
 * @example phaseError({ measuredDeg: 359.2, nominalDeg: 0, limitDeg: 0.5 }).errorDeg.toFixed(3) // '-0.800'
 */
export function phaseError({ measuredDeg, nominalDeg, limitDeg }: PhaseRead): PhaseAnswer {
  for (const angle of [measuredDeg, nominalDeg])
    if (!(angle >= -360 && angle <= 720)) throw new RangeError('phaseError needs angles from -360 to 720 degrees')
  if (!(limitDeg > 0 && limitDeg <= 90)) throw new RangeError('phaseError needs a limit over 0 to 90 degrees')
  const turned = (((measuredDeg - nominalDeg) % 360) + 360) % 360
  const errorDeg = turned > 180 ? turned - 360 : turned
  return { errorDeg, verdict: Math.abs(errorDeg) <= limitDeg + DUST_DEG ? 'within' : 'over' }
}
