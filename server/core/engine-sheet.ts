/** A figure of a model sheet that does not go together with another one. */
export interface SheetFault {
  /** The figure to look at. */
  name: string
  code: 'crossed' | 'too-fine' | 'no-place'
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

/** Limits of runout, and the figures that say where each was given: both supports and the dial of that end. */
const PLACES_OF_LIMITS: readonly { limits: readonly string[]; places: Readonly<Record<string, string>> }[] = [
  {
    limits: ['limitMakerLeftMm', 'limitHouseLeftMm'],
    places: {
      dialLeftMm: 'left support to dial',
      supportLeftMm: 'crank centre to left support',
      supportRightMm: 'crank centre to right support',
    },
  },
  {
    limits: ['limitMakerRightMm', 'limitHouseRightMm'],
    places: {
      dialRightMm: 'right support to dial',
      supportLeftMm: 'crank centre to left support',
      supportRightMm: 'crank centre to right support',
    },
  },
]

/**
 * What is wrong with the figures of a model sheet beside each other: a window whose least is above its most, a shop floor
 * above the whole window of the fit, a figure finer than the book keeps (a hundred-thousandth of a millimetre), and a limit
 * of runout without the dial of its end and both supports, because without its place it says nothing of a reading. A
 * figure that the sheet does not have is otherwise left out of the comparison. All in mm.
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
  for (const { limits, places } of PLACES_OF_LIMITS) {
    const lacks = Object.keys(places).flatMap((place) => (figures[place] === undefined ? (places[place] ?? []) : []))
    if (lacks.length === 0) continue
    const detail = `A limit says nothing without its place. Put that on the sheet first: ${lacks.join(', ')}.`
    for (const name of limits) if (figures[name] !== undefined) faults.push({ name, code: 'no-place', detail })
  }
  return faults
}

/**
 * Why one figure cannot go on a sheet beside those that stand there; undefined where it can. What was wrong with the others
 * before is not held against it.
 *
 * @example faultOfFigure({ supportLeftMm: 44 }, 'limitHouseLeftMm', 0.02)?.code // 'no-place'
 *
 * mm. Refuses (RangeError) figures that are not finite. Source: as `sheetFaults`.
 */
export function faultOfFigure(standing: Readonly<Record<string, number>>, name: string, valueMm: number): SheetFault | undefined {
  return sheetFaults({ ...standing, [name]: valueMm }).find((one) => one.code === 'crossed' || one.name === name)
}
