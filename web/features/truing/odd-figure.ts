/** A full swing over this would be no crank that ran; taken where there is no earlier set to compare with. */
const WILD_MM = 1
/** A blow may jump too far, but hardly by this much beyond what it was. */
const JUMP_MM = 0.1

/**
 * Whether a figure should be asked about before it is taken: a reading counts from 12 (where that is read), a swing by
 * itself. Within one set no reading can lie further from 12 than the full swing, so that more than twice the last full
 * swing, and a tenth more than it, is more likely a slip of the finger or of the dial. Common practice, no source.
 *
 * @example isOdd(0.8, 0.17) // true
 * @example isOdd(0.1, 0.02) // false
 */
export function isOdd(fromTwelveMm: number, lastTirMm: number | undefined): boolean {
  const size = Math.abs(fromTwelveMm)
  if (lastTirMm === undefined) return size > WILD_MM
  return size > 2 * lastTirMm && size > lastTirMm + JUMP_MM
}
