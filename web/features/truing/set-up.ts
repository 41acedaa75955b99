import type { Engine, EngineFigureName } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { Measurement, RunoutSetup } from '#contract/measurements.ts'
import { clockOfMark, MARKS_RUN, type MarksRun } from '#core/bench/marks-run.ts'
import { WAYS_OF_HOLDING } from '#core/crank-shape.ts'
import { DIAL_DISTANCE_MM } from '#core/limits.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { runOf } from '#web/features/truing/marks-said.ts'
import { DIALS, type Dials, endsToRead, isSkipped, marksOf, READ_AT, type ReadAt } from '#web/features/truing/marks-to-read.ts'
import { fields, figure, flag, listOf, oneOf, optional, read, type Shape, text, within } from '#web/lib/shape.ts'

/** How the crank lies, where the dials stand, which dials: what has to be so before the first figure is keyed. */
export interface ReadingSetUp extends Omit<RunoutSetup, 'cold'> {
  /** Absent while nobody has said. */
  cold?: boolean | undefined
  temperatureC?: number | undefined
  instrumentId?: string | undefined
  /** One division of the dials, mm. */
  stepMm: number
  readAt: ReadAt
  dials: Dials
}

const surface: Shape<string> = (raw): raw is string => text(raw) && raw.trim() !== '' && raw.length <= 80

/** Whole, and within what the book takes. */
export const readingSetUp = fields<ReadingSetUp>({
  held: oneOf(...WAYS_OF_HOLDING),
  supportLeftMm: within(1, 1000),
  supportRightMm: within(1, 1000),
  dialLeftMm: within(-1000, 1000),
  dialRightMm: within(-1000, 1000),
  surfaceLeft: surface,
  surfaceRight: surface,
  cold: optional(flag),
  marksRun: optional(oneOf(...MARKS_RUN)),
  skippedLeftDeg: optional(listOf(figure)),
  skippedRightDeg: optional(listOf(figure)),
  temperatureC: optional(within(-20, 150)),
  instrumentId: optional(text),
  stepMm: within(Number.MIN_VALUE, 0.1),
  readAt: oneOf(...READ_AT),
  dials: oneOf(...DIALS),
})

/** What the last set, or else the sheet, says; places that neither knows are absent. */
export type KnownSetUp = { [Name in keyof ReadingSetUp]?: ReadingSetUp[Name] | undefined } & {
  stepMm: number
  readAt: ReadAt
  dials: Dials
}

/** The coarsest dial of a bench; taken where the book has none. Common practice, no source. */
const USUAL_STEP_MM = 0.01

export function figureOf(sheet: Engine, name: EngineFigureName): number | undefined {
  return sheet.figures.find((figure) => figure.name === name)?.value
}

export function dialsOf(instruments: readonly Instrument[]): Instrument[] {
  return instruments.filter((one) => one.kind === 'dial' && !one.ended)
}

/**
 * The set-up to begin with: how it lay last time, else as the engine's sheet says, with the dial used last or the first that
 * is not overdue. Whether the crank is cold is carried over only from a set of the same person; give none, and it is asked.
 * `here`: how many dials stand at this bench, and which way the marks run.
 */
export function knownSetUp(
  sheet: Engine,
  dials: readonly Instrument[],
  last: Pick<Measurement, 'setup' | 'instrument' | 'values' | 'byId'> | undefined,
  personId: string | undefined,
  here: { dials: Dials; marksRun: MarksRun } = { dials: 'two', marksRun: 'clockwise' },
): KnownSetUp {
  const dial = dials.find((one) => one.id === last?.instrument?.id) ?? dials.find((one) => !one.overdue) ?? dials[0]
  const own = last?.byId === personId
  const before = last?.setup
  return {
    held: before?.held ?? 'v-blocks-bare',
    supportLeftMm: before?.supportLeftMm ?? figureOf(sheet, 'supportLeftMm'),
    supportRightMm: before?.supportRightMm ?? figureOf(sheet, 'supportRightMm'),
    dialLeftMm: before?.dialLeftMm ?? figureOf(sheet, 'dialLeftMm'),
    dialRightMm: before?.dialRightMm ?? figureOf(sheet, 'dialRightMm'),
    surfaceLeft: before?.surfaceLeft ?? sheet.surfaceLeft,
    surfaceRight: before?.surfaceRight ?? sheet.surfaceRight,
    cold: own ? before?.cold : undefined,
    instrumentId: dial?.id,
    stepMm: dial?.stepMm ?? USUAL_STEP_MM,
    readAt: readAtOf(last),
    dials: here.dials,
    marksRun: here.marksRun,
    ...skippedAs(last, here.marksRun),
  }
}

/** A keyway stays where it is: the marks that were skipped last time are skipped again, wherever 3 and 9 are counted now. */
function skippedAs(last: Pick<Measurement, 'setup'> | undefined, run: MarksRun): Pick<KnownSetUp, 'skippedLeftDeg' | 'skippedRightDeg'> {
  const { skippedLeftDeg, skippedRightDeg } = last?.setup ?? {}
  const turned = (all: readonly number[]) => (runOf(last?.setup) === run ? [...all] : all.map((deg) => clockOfMark(deg, 'other-way')))
  return {
    ...(skippedLeftDeg === undefined ? {} : { skippedLeftDeg: turned(skippedLeftDeg) }),
    ...(skippedRightDeg === undefined ? {} : { skippedRightDeg: turned(skippedRightDeg) }),
  }
}

function readAtOf(last: Pick<Measurement, 'values'> | undefined): ReadAt {
  if (last?.values.some((value) => value.place.endsWith('-swing'))) return 'swing'
  const marks = new Set(last?.values.map((value) => value.atDeg ?? 0))
  return marks.size > 4 ? 'eight' : 'four'
}

/** The set-up where it says all that a reading needs; undefined while a place is not known. */
export function completeSetUp(known: KnownSetUp): ReadingSetUp | undefined {
  const whole = read(readingSetUp, known)
  return whole !== undefined && isPlace(whole.dialLeftMm) && isPlace(whole.dialRightMm) ? whole : undefined
}

/** A dial right at its support tells nothing. */
export function isPlace(dialMm: number): boolean {
  return Math.abs(dialMm) >= DIAL_DISTANCE_MM.min && Math.abs(dialMm) <= DIAL_DISTANCE_MM.max
}

/** As it goes to the book; needs to know whether the crank is cold. */
export function setUpForBook(setUp: ReadingSetUp, cold: boolean): RunoutSetup {
  const { held, supportLeftMm, supportRightMm, dialLeftMm, dialRightMm, surfaceLeft, surfaceRight, marksRun } = setUp
  const places = { held, supportLeftMm, supportRightMm, dialLeftMm, dialRightMm, surfaceLeft, surfaceRight, cold }
  const [skippedLeftDeg, skippedRightDeg] = SIDES.map((side) => skippedMarks(setUp, side))
  return {
    ...places,
    ...(marksRun === undefined ? {} : { marksRun }),
    ...(skippedLeftDeg?.length ? { skippedLeftDeg } : {}),
    ...(skippedRightDeg?.length ? { skippedRightDeg } : {}),
  }
}

/** The marks of this set that are skipped at an end, as clock angles. */
function skippedMarks(setUp: ReadingSetUp, side: Side): number[] {
  if (setUp.readAt === 'swing' || !endsToRead(setUp.held).includes(side)) return []
  return marksOf(setUp).flatMap((mark) => (isSkipped(setUp, side, mark) ? [mark.deg] : []))
}

/** `45 out, taper 1:5` */
export function placeWords(setUp: Pick<ReadingSetUp, 'dialLeftMm' | 'dialRightMm' | 'surfaceLeft' | 'surfaceRight'>, side: Side): string {
  const mm = side === 'left' ? setUp.dialLeftMm : setUp.dialRightMm
  const surface = side === 'left' ? setUp.surfaceLeft : setUp.surfaceRight
  return `${Number(Math.abs(mm).toFixed(2))} ${mm < 0 ? 'in' : 'out'}, ${surface}`
}
