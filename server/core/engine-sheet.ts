/** A figure of a model sheet that does not go together with another one. */
export interface SheetFault {
  /** The figure to look at. */
  name: string
  code: 'crossed' | 'too-fine'
  detail: string
}

/** Pairs of which the first may not be the greater. */
const ORDERED: readonly { least: string; most: string; detail: string }[] = [
  { least: 'widthMinMm', most: 'widthMaxMm', detail: 'The least width over webs is more than the most.' },
  { least: 'clearanceMinMm', most: 'clearanceMaxMm', detail: 'The least side clearance is more than the most.' },
  { least: 'fitMinMm', most: 'fitMaxMm', detail: 'The least pin fit is more than the most.' },
  { least: 'shopFloorMm', most: 'fitMaxMm', detail: 'The floor of the shop is above the whole window of the fit.' },
]

const STEPS_A_MM = 100_000

/**
 * What is wrong with the figures of a model sheet beside each other: a window whose least is above its most, a shop floor
 * above the whole window of the fit, and a figure finer than the book keeps (a hundred-thousandth of a millimetre). A
 * figure that the sheet does not have is left out of the comparison. All in mm.
 *
 * Refuses (RangeError) figures that are not finite. Source: common practice, no source.
 *
 * @example sheetFaults({ widthMinMm: 64.05, widthMaxMm: 63.95 })[0].code // 'crossed'
 */
export function sheetFaults(figures: Readonly<Record<string, number>>): SheetFault[] {
  const faults: SheetFault[] = []
  for (const [name, value] of Object.entries(figures)) {
    if (!Number.isFinite(value)) throw new RangeError('sheetFaults needs finite figures')
    // A figure turned from inches carries the rounding of its sum, far below the step that is kept.
    const steps = value * STEPS_A_MM
    if (Math.abs(steps - Math.round(steps)) > 1e-3)
      faults.push({ name, code: 'too-fine', detail: 'The book keeps five decimals of a millimetre; round it to those.' })
  }
  for (const { least, most, detail } of ORDERED) {
    const low = figures[least]
    const high = figures[most]
    if (low !== undefined && high !== undefined && low > high) faults.push({ name: least, code: 'crossed', detail })
  }
  return faults
}
