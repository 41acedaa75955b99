import type { Bench } from '#contract/bench.ts'
import type { Engine, EngineFigureName } from '#contract/engines.ts'
import type { Measurement } from '#contract/measurements.ts'
import { isWithin } from '#core/runout-verdict.ts'
import { mm } from '#web/lib/format.ts'

/** One thing that was measured, as both the drawing and the table say it. */
export interface MeasuredLine {
  id: string
  what: string
  /** `0.19 at 81°`; absent where it was not read. */
  figure?: string
  /** `as received`, `as it stands`, `the old pin`; or why there is no figure. */
  how: string
  /** `0.02`, `0.25 to 0.50`; absent where the sheet gives none. */
  allowed?: string
  /** The word that goes with the ▲ where it is past what is allowed. */
  past?: string
}

type End = 'left' | 'right'
const ENDS = ['left', 'right'] as const
const DEFAULT_STEP_MM = 0.01

export const PHASE_WORDS: Readonly<Record<Measurement['phase'], string>> = {
  received: 'as received',
  kit: 'of the kit',
  building: 'on the way',
  built: 'as it stands',
  second: 'second reading',
  third: 'third reading',
}

export function figuresOf(sheet: Pick<Engine, 'figures'>): Partial<Record<EngineFigureName, number>> {
  return Object.fromEntries(sheet.figures.map((one) => [one.name, one.value]))
}

/** The newest set of a kind that stands: not struck out. A set whose figures are hidden from this reader still counts as the newest. */
export function newestOf(bench: Bench, kind: Measurement['kind']): Measurement | undefined {
  return bench.measurements.filter((one) => one.kind === kind && one.struck === undefined).at(-1)
}

export function stepOf(set: Measurement): number {
  return set.instrument?.stepMm ?? DEFAULT_STEP_MM
}

/** The last reading at a place. */
export function readingAt(set: Measurement | undefined, place: string): number | undefined {
  return set?.values.filter((one) => one.place === place).at(-1)?.mm
}

export function notThere(set: Measurement | undefined): string | undefined {
  if (set === undefined) return 'not measured yet'
  if (set.notReadBecause !== undefined) return `not read, because ${set.notReadBecause}`
  return set.hidden ? 'hidden until the second reading is in' : undefined
}

function windowWords(least: number | undefined, most: number | undefined): string | undefined {
  if (least === undefined && most === undefined) return undefined
  if (least === undefined) return `at most ${mm(most ?? 0, DEFAULT_STEP_MM)}`
  return most === undefined ? `at least ${mm(least, DEFAULT_STEP_MM)}` : `${mm(least, DEFAULT_STEP_MM)} to ${mm(most, DEFAULT_STEP_MM)}`
}

function pastWindow(value: number, least: number | undefined, most: number | undefined): string | undefined {
  if (most !== undefined && !isWithin(value, most)) return 'over'
  return least !== undefined && !isWithin(least, value) ? 'under' : undefined
}

/** The parts of a line that may be absent are left out, not undefined. */
export function line(
  given: { [Name in keyof MeasuredLine]: MeasuredLine[Name] | undefined } & Pick<MeasuredLine, 'id' | 'what' | 'how'>,
): MeasuredLine {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) as unknown as MeasuredLine
}

export function runoutLine(bench: Bench, end: End): MeasuredLine {
  const what = `Full swing, ${end}`
  const set = newestOf(bench, 'runout')
  const missing = notThere(set)
  const read = set?.runout?.[end]
  if (set === undefined || missing !== undefined || read === undefined)
    return line({ id: `runout-${end}`, what, how: missing ?? 'not measured yet' })
  const limit = end === 'left' ? set.runout?.limits.leftMm : set.runout?.limits.rightMm
  const verdict = set.runout?.verdicts[end]
  const step = stepOf(set)
  return line({
    id: `runout-${end}`,
    what,
    // A swing that the dial does not show has no high spot to speak of.
    figure: read.tirMm < step / 2 ? mm(0, step) : `${mm(read.tirMm, step)} at ${Math.round(read.highAtDeg) % 360}°`,
    how: PHASE_WORDS[set.phase],
    allowed: limit === undefined ? undefined : mm(limit, Math.min(step, DEFAULT_STEP_MM)),
    past: verdict === 'over' ? 'over' : undefined,
  })
}

/** `45 out, taper 1:5`, where the dial of the newest reading stood. */
export function dialWords(bench: Bench, end: End): string | undefined {
  const setup = newestOf(bench, 'runout')?.setup
  if (setup === undefined) return undefined
  const [at, surface] = end === 'left' ? [setup.dialLeftMm, setup.surfaceLeft] : [setup.dialRightMm, setup.surfaceRight]
  return `${Math.abs(at)} ${at > 0 ? 'out' : 'in'}, ${surface}`
}

const WIDTH_PLACES = ['0', '90', '180', '270'] as const
const PLACE_WORDS = { '0': 'at the pin', '90': 'at 3', '180': 'opposite the pin', '270': 'at 9' } as const

/** Middle of the widths read around, and how much wider it is opposite the pin than beside it. */
export function widthRead(bench: Bench): { middleMm: number; widerOppositeMm: number | undefined; set: Measurement } | undefined {
  const set = newestOf(bench, 'width')
  const read = WIDTH_PLACES.map((place) => readingAt(set, place)).filter((one) => one !== undefined)
  if (set === undefined || read.length === 0) return undefined
  const [beside, opposite] = [readingAt(set, '0'), readingAt(set, '180')]
  return {
    middleMm: read.reduce((sum, one) => sum + one, 0) / read.length,
    widerOppositeMm: beside === undefined || opposite === undefined ? undefined : opposite - beside,
    set,
  }
}

function widthLine(bench: Bench, sheet: Engine): MeasuredLine {
  const figures = figuresOf(sheet)
  const allowed = windowWords(figures.widthMinMm, figures.widthMaxMm)
  const read = widthRead(bench)
  if (read === undefined)
    return line({ id: 'width', what: 'Width over webs', how: notThere(newestOf(bench, 'width')) ?? 'not measured yet', allowed })
  const step = stepOf(read.set)
  const wedge = read.widerOppositeMm
  const isWedged = wedge !== undefined && Math.abs(wedge) >= step / 2
  const out = WIDTH_PLACES.flatMap((place) => {
    const value = readingAt(read.set, place)
    const past = value === undefined ? undefined : pastWindow(value, figures.widthMinMm, figures.widthMaxMm)
    return value === undefined || past === undefined ? [] : [`${past} ${PLACE_WORDS[place]} (${mm(value, step)})`]
  })
  return line({
    id: 'width',
    what: 'Width over webs',
    figure: mm(read.middleMm, step),
    how: `${PHASE_WORDS[read.set.phase]}${isWedged ? `, ${mm(Math.abs(wedge), step)} ${wedge > 0 ? 'wider' : 'narrower'} opposite the pin` : ''}`,
    allowed,
    past: out.length === 0 ? undefined : out.join(', '),
  })
}

function clearanceLine(bench: Bench, sheet: Engine): MeasuredLine {
  const { clearanceMinMm: least, clearanceMaxMm: most } = figuresOf(sheet)
  const set = newestOf(bench, 'clearance')
  const felt = ENDS.map((end) => readingAt(set, end)).filter((one) => one !== undefined)
  const allowed = windowWords(least, most)
  const missing = notThere(set)
  const [first, second] = felt
  if (set === undefined || missing !== undefined || first === undefined)
    return line({ id: 'clearance', what: 'Side clearance of the rod', how: missing ?? 'not measured yet', allowed })
  const step = stepOf(set)
  return line({
    id: 'clearance',
    what: 'Side clearance of the rod',
    figure: second === undefined || second === first ? mm(first, step) : `${mm(first, step)} and ${mm(second, step)}`,
    how: PHASE_WORDS[set.phase],
    allowed,
    past: felt.map((one) => pastWindow(one, least, most)).find((one) => one !== undefined),
  })
}

function playLine(bench: Bench, sheet: Engine): MeasuredLine {
  const { playLimitMm: most } = figuresOf(sheet)
  const set = newestOf(bench, 'play')
  const value = readingAt(set, 'up-down')
  const allowed = most === undefined ? undefined : mm(most, DEFAULT_STEP_MM)
  const missing = notThere(set)
  if (set === undefined || missing !== undefined || value === undefined)
    return line({ id: 'play', what: 'Big-end play', how: missing ?? 'not measured yet', allowed })
  return line({
    id: 'play',
    what: 'Big-end play',
    figure: mm(value, stepOf(set)),
    how: PHASE_WORDS[set.phase],
    allowed,
    past: pastWindow(value, undefined, most),
  })
}

const FINE_STEP_MM = 0.001

function fitLine(bench: Bench, sheet: Engine, end: End): MeasuredLine {
  const { fitMinMm, fitMaxMm } = figuresOf(sheet)
  const fit = bench.fit?.[end]
  const what = `Fit of the pin, ${end} web`
  const least = fitMinMm === undefined ? undefined : mm(fitMinMm, FINE_STEP_MM)
  const allowed = least === undefined || fitMaxMm === undefined ? undefined : `${least} to ${mm(fitMaxMm, FINE_STEP_MM)}`
  if (fit === undefined) return line({ id: `fit-${end}`, what, how: 'not measured yet', allowed })
  const past = fit.verdict === 'stop' ? 'under the scrap floor' : fit.verdict === 'below-shop-floor' ? 'under the shop’s floor' : undefined
  return line({
    id: `fit-${end}`,
    what,
    figure: mm(fit.interferenceMm, FINE_STEP_MM),
    how: bench.fit?.ofOldPin ? 'old pin' : 'pin of the kit',
    allowed,
    past,
  })
}

/** `9.5 t out, 5.9 to 9.8 foretold`: what the web let go at, beside what the fit foretold. */
function tonnesLine(bench: Bench, end: End): MeasuredLine | undefined {
  const pressed = bench.pressings.filter((one) => one.side === end && one.struck === undefined).at(-1)
  if (pressed === undefined) return undefined
  const what = `Peak of the press, ${end} web`
  const how = pressed.direction === 'apart' ? 'pressed apart' : 'pressed together'
  if (pressed.peakTonnes === undefined)
    return line({ id: `tonnes-${end}`, what, how: `not read, because ${pressed.notReadBecause ?? 'nobody said'}` })
  const foretold = pressed.foretold
  const isLow = foretold !== undefined && pressed.peakTonnes < foretold.lowTonnes
  const isHigh = foretold !== undefined && pressed.peakTonnes > foretold.highTonnes
  return line({
    id: `tonnes-${end}`,
    what,
    figure: `${pressed.peakTonnes.toFixed(1)} t`,
    how,
    allowed: foretold === undefined ? undefined : `${foretold.lowTonnes.toFixed(1)} to ${foretold.highTonnes.toFixed(1)} t foretold`,
    past: isLow ? 'low' : isHigh ? 'high' : undefined,
  })
}

/** Everything that was measured of one throw, from left to right. */
export function throwLines(bench: Bench, sheet: Engine): MeasuredLine[] {
  return [
    widthLine(bench, sheet),
    clearanceLine(bench, sheet),
    playLine(bench, sheet),
    fitLine(bench, sheet, 'left'),
    fitLine(bench, sheet, 'right'),
    tonnesLine(bench, 'left'),
    tonnesLine(bench, 'right'),
  ].filter((one) => one !== undefined)
}
