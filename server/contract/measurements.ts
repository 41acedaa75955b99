import { z } from 'zod'
import { MARKS_RUN } from '#core/bench/marks-run.ts'
import { READING_KINDS, READING_PHASES } from '#core/bench/reading-set.ts'
import { WAYS_OF_HOLDING } from '#core/crank-shape.ts'
import { LENGTH_UNITS } from '#core/units.ts'
import { joint } from './crank-build.ts'
import { oddReading } from './odd-readings.ts'
import { id, instant, line, optionalLine, recorded } from './primitives.ts'
import { runoutFigures } from './runout-figures.ts'

export const MEASUREMENT_KINDS = READING_KINDS
export const PHASES = READING_PHASES

/** The places that each kind of reading is taken at. Degrees are from the pin, clockwise seen from the right-hand end. */
export const PLACES = {
  width: ['0', '90', '180', '270'],
  clearance: ['left', 'right'],
  play: ['up-down', 'rock'],
  rod: ['bend', 'twist', 'small-end-0', 'small-end-90'],
  pin: ['left-0', 'left-90', 'right-0', 'right-90'],
  bore: [
    'left-outer-0',
    'left-outer-90',
    'left-inner-0',
    'left-inner-90',
    'right-outer-0',
    'right-outer-90',
    'right-inner-0',
    'right-inner-90',
  ],
  stack: ['web-left', 'web-right', 'rod', 'washer-1', 'washer-2'],
  runout: ['left', 'right', 'left-again', 'right-again', 'left-swing', 'right-swing'],
  phase: ['2', '3', '4', '5', '6'],
  centre: ['1', '2', '3', '4', '5'],
} as const satisfies Record<(typeof MEASUREMENT_KINDS)[number], readonly string[]>

const kind = z
  .enum(MEASUREMENT_KINDS)
  .describe(
    'width over webs at four places; side clearance of the rod; big-end play; rod; pin and bore for the fit; stack: webs, rod and washers apart; runout of both ends; of a crank with several throws also phase: where throws 2 and on stand from throw 1, degrees clockwise seen from the right-hand end, and centre: the full swing of a dial after throw 1, 2 and on',
  )
const phase = z
  .enum(PHASES)
  .describe(
    'received: as it came in; kit: parts before pressing; building: on the way; built: as it stands after pressing or truing; second, third: the readings of the second check',
  )
/** Lengths as they are typed, and the degrees of a phase. */
export const VALUE_UNITS = [...LENGTH_UNITS, 'deg'] as const

export const valueNew = z.strictObject({
  place: line(40).describe('Where, from the list of places of this kind'),
  atDeg: z
    .number()
    .min(0)
    .lt(360)
    .optional()
    .describe(
      'Mark under the dial, degrees clockwise from the pin seen from the right-hand end (runout); for a swing, where it read highest',
    ),
  mm: z.number().min(-360).max(720).describe('The reading, mm; of a phase, whose unit is deg, degrees'),
  typed: optionalLine(40).optional().describe('As it was typed or keyed'),
  unit: z
    .enum(VALUE_UNITS)
    .optional()
    .describe('Unit it was typed in; mm unless said. tenth is 0.0001 in; deg, degrees, is for a phase alone and needed there'),
})

const skippedDeg = (end: string) =>
  z
    .array(z.number().gt(0).lt(360))
    .max(8)
    .optional()
    .describe(`Marks left out at the ${end} because a keyway lies there, degrees clockwise from the pin; never 12, which is read again`)

export const runoutSetup = z.strictObject({
  held: z.enum(WAYS_OF_HOLDING).describe('How the crank lay'),
  supportLeftMm: z.number().min(1).max(1000).describe('Crank centre to where the left shaft is held, mm'),
  supportRightMm: z.number().min(1).max(1000).describe('Crank centre to where the right shaft is held, mm'),
  dialLeftMm: z.number().min(-1000).max(1000).describe('Left support to dial, mm, + outboard'),
  dialRightMm: z.number().min(-1000).max(1000).describe('Right support to dial, mm, + outboard'),
  surfaceLeft: line(80).describe('What the left dial stood on'),
  surfaceRight: line(80).describe('What the right dial stood on'),
  cold: z.boolean().describe('The crank was at the temperature of the room'),
  skippedLeftDeg: skippedDeg('left'),
  skippedRightDeg: skippedDeg('right'),
  marksRun: z
    .enum(MARKS_RUN)
    .optional()
    .describe('How the marks on the rim run, seen from the right-hand end. atDeg is clockwise whichever it is; absent: nobody has said'),
})
export type RunoutSetup = z.infer<typeof runoutSetup>

/** One set of readings. Either values, or why it was not read. */
export const measurementNew = z
  .strictObject({
    ...recorded,
    kind,
    phase,
    joint: joint.optional(),
    instrumentId: id.optional().describe('The instrument it was read with'),
    temperatureC: z.number().min(-20).max(150).optional().describe('Temperature of the part, °C'),
    setup: runoutSetup.optional().describe('How it lay and where the dials stood (runout only, and needed there)'),
    values: z.array(valueNew).max(64).describe('The readings, in the order they were taken'),
    notReadBecause: line(300).optional().describe('Why it was not read; then values is empty'),
    peakTonnes: z.number().gt(0).max(100).optional().describe('Highest reading of the gauge in the tap before this width, t (width only)'),
    note: optionalLine(400).optional().describe('Note'),
  })
  .superRefine((body, context) => {
    if ((body.values.length === 0) === (body.notReadBecause === undefined))
      context.addIssue({ code: 'custom', path: ['values'], message: 'Give the readings, or say why it was not read.' })
    if (body.kind === 'runout' && body.notReadBecause === undefined && body.setup === undefined)
      context.addIssue({ code: 'custom', path: ['setup'], message: 'Say how it lay and where the dials stood.' })
    if (body.peakTonnes !== undefined && body.kind !== 'width')
      context.addIssue({ code: 'custom', path: ['peakTonnes'], message: 'The gauge is written with a width alone.' })
    const places: readonly string[] = PLACES[body.kind]
    body.values.forEach((value, index) => {
      if (!places.includes(value.place))
        context.addIssue({ code: 'custom', path: ['values', index, 'place'], message: `One of: ${places.join(', ')}.` })
    })
  })
export type MeasurementNew = z.infer<typeof measurementNew>

export const measurement = z.strictObject({
  id,
  kind,
  phase,
  joint: joint.optional(),
  by: z.string().describe('Who read it'),
  byId: id,
  occurredAt: instant,
  recordedAt: instant,
  instrument: z
    .strictObject({ id, name: z.string().describe('Name'), stepMm: z.number().describe('One division, mm') })
    .optional()
    .describe('What it was read with'),
  temperatureC: z.number().optional().describe('Temperature of the part, °C'),
  setup: runoutSetup.optional().describe('How it lay and where the dials stood (runout only)'),
  values: z.array(valueNew).describe('Empty where it was not read, or while the first reading is hidden from the second reader'),
  hidden: z.literal(true).optional().describe('The first reading is hidden until the second is in'),
  runout: runoutFigures.optional().describe('Worked out when it was stored (runout only)'),
  odd: z
    .array(oddReading)
    .optional()
    .describe('What is worth a second look (width, pin and bore); absent where nothing is, and while it is hidden'),
  peakTonnes: z.number().optional().describe('Highest reading of the gauge in the tap before this width, t (width only)'),
  notReadBecause: z.string().optional().describe('Why it was not read'),
  note: z.string().optional().describe('Note'),
  struck: z
    .strictObject({ by: z.string().describe('Who'), at: instant, because: z.string().describe('Why') })
    .optional()
    .describe('Struck out; kept for the record'),
})
export type Measurement = z.infer<typeof measurement>

export const strike = z.strictObject({ ...recorded, because: line(300).describe('Why it is struck out') })
export const turnRound = z.strictObject({ id: recorded.id.describe('Id of the set as it stands afterwards; made here unless given') })
