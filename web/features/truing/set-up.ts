import { z } from 'zod'
import type { Engine, EngineFigureName } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import { type Measurement, type RunoutSetup, runoutSetup } from '#contract/measurements.ts'
import { DIAL_DISTANCE_MM } from '#core/limits.ts'
import type { Side } from '#core/runout-verdict.ts'
import { DIALS, type Dials, READ_AT, type ReadAt } from '#web/features/truing/marks-to-read.ts'

/** How the crank lies, where the dials stand, which dials: what has to be so before the first figure is keyed. */
export const readingSetUp = z.strictObject({
  ...runoutSetup.omit({ cold: true }).shape,
  /** Nobody has said yet. */
  cold: z.boolean().optional(),
  temperatureC: z.number().optional(),
  instrumentId: z.string().optional(),
  /** One division of the dials, mm. */
  stepMm: z.number().gt(0).max(0.1),
  readAt: z.enum(READ_AT),
  dials: z.enum(DIALS),
})
export type ReadingSetUp = z.infer<typeof readingSetUp>

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
 * is not overdue. Whether the crank is cold is carried over only from a set of the
 * same person; give none, and it is asked.
 */
export function knownSetUp(
  sheet: Engine,
  dials: readonly Instrument[],
  last: Pick<Measurement, 'setup' | 'instrument' | 'values' | 'byId'> | undefined,
  personId: string | undefined,
  howMany: Dials = 'two',
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
    dials: howMany,
  }
}

function readAtOf(last: Pick<Measurement, 'values'> | undefined): ReadAt {
  if (last?.values.some((value) => value.place.endsWith('-swing'))) return 'swing'
  const marks = new Set(last?.values.map((value) => value.atDeg ?? 0))
  return marks.size > 4 ? 'eight' : 'four'
}

/** The set-up where it says all that a reading needs; undefined while a place is not known. */
export function completeSetUp(known: KnownSetUp): ReadingSetUp | undefined {
  const read = readingSetUp.safeParse(JSON.parse(JSON.stringify(known)))
  if (!read.success) return undefined
  const { dialLeftMm, dialRightMm } = read.data
  return isPlace(dialLeftMm) && isPlace(dialRightMm) ? read.data : undefined
}

/** A dial right at its support tells nothing. */
export function isPlace(dialMm: number): boolean {
  return Math.abs(dialMm) >= DIAL_DISTANCE_MM.min && Math.abs(dialMm) <= DIAL_DISTANCE_MM.max
}

/** As it goes to the book; needs to know whether the crank is cold. */
export function setUpForBook(setUp: ReadingSetUp, cold: boolean): RunoutSetup {
  const { held, supportLeftMm, supportRightMm, dialLeftMm, dialRightMm, surfaceLeft, surfaceRight } = setUp
  return { held, supportLeftMm, supportRightMm, dialLeftMm, dialRightMm, surfaceLeft, surfaceRight, cold }
}

/** `45 out, taper 1:5` */
export function placeWords(setUp: Pick<ReadingSetUp, 'dialLeftMm' | 'dialRightMm' | 'surfaceLeft' | 'surfaceRight'>, side: Side): string {
  const mm = side === 'left' ? setUp.dialLeftMm : setUp.dialRightMm
  const surface = side === 'left' ? setUp.surfaceLeft : setUp.surfaceRight
  return `${Number(Math.abs(mm).toFixed(2))} ${mm < 0 ? 'in' : 'out'}, ${surface}`
}
