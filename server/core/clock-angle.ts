/**
 * Angles round the crank, degrees clockwise from the pin at 12 o'clock, seen from the right-hand (drive) end.
 * Cosine and sine are exact at 12, 3, 6 and 9, so that four plain readings leave no dust in the answer.
 */

/** Brings any angle into [0, 360). @example wrapDegrees(-90) // 270 */
export function wrapDegrees(degrees: number): number {
  const rest = degrees % 360
  const wrapped = rest < 0 ? rest + 360 : rest
  // A tiny negative rest rounds up to a whole turn, and −0 is no angle to show.
  return wrapped === 360 || wrapped === 0 ? 0 : wrapped
}

/** Cosine of an angle in degrees. @example cosDegrees(90) // 0 */
export function cosDegrees(degrees: number): number {
  return sinDegrees(wrapDegrees(degrees) + 90)
}

/** Sine of an angle in degrees. @example sinDegrees(-90) // -1 */
export function sinDegrees(degrees: number): number {
  const wrapped = wrapDegrees(degrees)
  const quarter = Math.round(wrapped / 90)
  const rest = ((wrapped - 90 * quarter) * Math.PI) / 180
  if (quarter === 1) return Math.cos(rest)
  if (quarter === 2) return 0 - Math.sin(rest)
  if (quarter === 3) return -Math.cos(rest)
  return Math.sin(rest)
}

/** The clock angle of an arrow, in [0, 360); 0 for an arrow without length. @example clockAngle(0, -1) // 270 */
export function clockAngle(radial: number, tangential: number): number {
  if (radial === 0 && tangential === 0) return 0
  return wrapDegrees((Math.atan2(tangential, radial) * 180) / Math.PI)
}
