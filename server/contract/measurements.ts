import { z } from 'zod'
import { BUDGET_PARTS } from '#core/bench/budget.ts'
import { MARKS_RUN } from '#core/bench/marks-run.ts'
import { QUALITY_CODES } from '#core/bench/reading-quality.ts'
import { READING_KINDS, READING_PHASES } from '#core/bench/reading-set.ts'
import { WAYS_OF_HOLDING } from '#core/crank-shape.ts'
import { WELD_AMPS } from '#core/limits.ts'
import { GUARD_RULES } from '#core/runout-verdict.ts'
import { LENGTH_UNITS } from '#core/units.ts'
import { engineBuild, joint } from './crank-build.ts'
import { fitStop } from './fit-stop.ts'
import { kitOfJob } from './kits.ts'
import { gaugeRead, oddReading, oursWidths } from './odd-readings.ts'
import { id, instant, line, optionalLine, recorded } from './primitives.ts'
import { fitOut } from './sum-fit.ts'
import { truingOut } from './sum-truing.ts'
import { widthOut } from './sum-width.ts'

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

const endFigures = z.strictObject({
  tirMm: z.number().describe('Full swing of the dial, mm'),
  highAtDeg: z.number().describe('Where it reads highest, degrees clockwise from the pin seen from the right-hand end'),
  residualMm: z.number().optional().describe('Root mean square of what the fit leaves, mm; absent where a full swing was given'),
})
const endVerdict = z.enum(['within', 'in-the-doubt-band', 'over'])

const endWorth = z.strictObject({
  k: z.number().describe('Give or take over the standard deviation'),
  degreesOfFreedom: z.number().nullable().describe('How well that deviation is known, degrees of freedom; null where as well as can be'),
  sets: z.int().describe('Sets in this very set-up that say how it repeats, this one among them'),
  parts: z
    .array(
      z.strictObject({
        name: z.enum(BUDGET_PARTS).describe('What makes the reading doubtful'),
        standardMm: z.number().describe('Standard deviation that it brings, mm'),
        share: z.number().describe('Its share of the whole, 0 to 1'),
      }),
    )
    .describe('The parts of the doubt; their shares add up to 1'),
})

const givenLimits = z.strictObject({
  limitMm: z.number().describe('What the house allows there, full swing in mm'),
  makerMm: z.number().optional().describe('What the maker allows there, full swing in mm; absent where he gives none'),
  dialMm: z.number().describe('From the support to the dial that it counts for, mm, + outboard'),
})

/** What the server worked out of a runout set when it was stored; kept with the method so that it can be worked again. */
export const runoutFigures = z.strictObject({
  sum: truingOut.optional().describe('The truing sum; absent where an end was not read'),
  refused: z.string().optional().describe('Why the sum could not be done'),
  left: endFigures.optional().describe('What the left end reads'),
  right: endFigures.optional().describe('What the right end reads'),
  closes: z
    .strictObject({
      leftMm: z.number().optional().describe('12 read again less 12 read first at the left end, mm'),
      rightMm: z.number().optional().describe('12 read again less 12 read first at the right end, mm'),
      agree: z
        .boolean()
        .describe('Every end that was read mark by mark has 12 again, and it repeats within 0.005 mm or half a division of the dial'),
    })
    .describe('12 read again less 12 read first, mm, and whether both repeat'),
  giveOrTake: z
    .strictObject({
      leftMm: z.number().describe('Give or take of one full swing at the left end, mm'),
      rightMm: z.number().describe('Give or take of one full swing at the right end, mm'),
    })
    .describe('Give or take of one full swing, mm; it holds the true figure 95 times in 100'),
  worth: z
    .strictObject({
      left: endWorth.describe('The budget of the left end'),
      right: endWorth.describe('The budget of the right end'),
      rule: z
        .enum(GUARD_RULES)
        .describe(
          'By which rule the ends were judged. full-guard: within where the figure and its give or take together do not pass the limit; simple: where the figure alone does not',
        ),
    })
    .optional()
    .describe('What makes the give or take; absent for a set stored when a table said it'),
  limits: z
    .strictObject({
      leftMm: z.number().optional().describe('House limit carried to where the left dial stood, mm; absent where it cannot be'),
      rightMm: z.number().optional().describe('House limit carried to where the right dial stood, mm; absent where it cannot be'),
      makerLeftMm: z.number().optional().describe('The maker’s limit carried to where the left dial stood, mm; absent where it cannot be'),
      makerRightMm: z
        .number()
        .optional()
        .describe('The maker’s limit carried to where the right dial stood, mm; absent where it cannot be'),
      given: z
        .strictObject({
          left: givenLimits.optional().describe('At the left; absent where it cannot be carried to that dial'),
          right: givenLimits.optional().describe('At the right; absent where it cannot be carried to that dial'),
        })
        .optional()
        .describe('The limits as the sheet gave them, each at its own place; absent for a set stored before they were kept'),
      atStatedPlace: z
        .boolean()
        .describe(
          'The crank lay on the supports that the sheet says, so that its limits could be carried to both dials; false: not to be compared',
        ),
    })
    .describe('What is allowed where the dials stood, mm'),
  verdicts: z
    .strictObject({
      left: endVerdict.optional().describe('The left end with its give or take against the house limit'),
      right: endVerdict.optional().describe('The right end with its give or take against the house limit'),
    })
    .describe('How the ends stand against the house limit; absent where it cannot be carried to the dial'),
  quality: z
    .array(
      z.strictObject({
        code: z.enum(QUALITY_CODES).describe('What is not well'),
        side: z.enum(['left', 'right']).optional().describe('At which end'),
        figure: z.number().optional().describe('The figure behind it, mm; for a keyway the degrees that it takes'),
        says: z.string().describe('What is seen, in a sentence'),
        do: z.string().describe('What to do about it'),
      }),
    )
    .optional()
    .describe('What is not well about the reading; empty for a clean one, absent for a set stored before this was judged'),
  method: z
    .strictObject({ name: z.string().describe('How the set was worked'), version: z.string().describe('Version of that method') })
    .optional()
    .describe('Method of everything here but the sum, which carries its own'),
})
export type RunoutFigures = z.infer<typeof runoutFigures>

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

export const pressingNew = z
  .strictObject({
    ...recorded,
    direction: z.enum(['apart', 'together']).describe('Pressed apart or together'),
    side: z.enum(['left', 'right']).describe('Which web'),
    joint: joint.optional(),
    peakTonnes: z.number().gt(0).max(100).optional().describe('Highest reading of the gauge, t'),
    notReadBecause: line(300).optional().describe('Why the gauge was not read'),
    lubricant: optionalLine(80).optional().describe('Oil or paste used'),
    galling: z.enum(['none', 'light', 'heavy']).optional().describe('Torn metal in the bore or on the pin'),
    crack: z.boolean().optional().describe('A crack seen in the web'),
    webMark: optionalLine(60).optional().describe('What is marked on this web'),
    note: optionalLine(400).optional().describe('Note'),
  })
  .refine((body) => (body.peakTonnes === undefined) !== (body.notReadBecause === undefined), {
    path: ['peakTonnes'],
    message: 'Give the peak of the gauge, or say why it was not read.',
  })
export type PressingNew = z.infer<typeof pressingNew>
export const pressing = z.strictObject({
  id,
  direction: z.enum(['apart', 'together']).describe('Apart or together'),
  side: z.enum(['left', 'right']).describe('Which web'),
  joint: joint.optional(),
  peakTonnes: z.number().optional().describe('Highest reading of the gauge, t'),
  notReadBecause: z.string().optional().describe('Why it was not read'),
  lubricant: z.string().optional().describe('Oil or paste used'),
  galling: z.enum(['none', 'light', 'heavy']).optional().describe('Torn metal in the bore or on the pin'),
  crack: z.boolean().optional().describe('A crack seen in the web'),
  webMark: z.string().optional().describe('What is marked on this web'),
  note: z.string().optional().describe('Note'),
  foretold: z
    .strictObject({ lowTonnes: z.number().describe('Lower end, t'), highTonnes: z.number().describe('Upper end, t') })
    .optional()
    .describe('What the measured fit foretells, t'),
  gauge: gaugeRead.optional().describe('The peak beside that; absent where the gauge was not read or nothing is foretold'),
  by: z.string().describe('Who'),
  occurredAt: instant,
  struck: z
    .strictObject({ by: z.string().describe('Who'), at: instant, because: z.string().describe('Why') })
    .optional()
    .describe('Struck out; kept for the record'),
})

/** What was seen in its place between the webs, of the parts that the sheet of the engine lists there. */
export const trappedTick = z.strictObject({
  ...recorded,
  ticked: z.array(line(80)).max(20).describe('What is in, as the sheet of the engine names it'),
})
export const trappedSeen = z.strictObject({
  ticked: z.array(z.string()).describe('What is in'),
  at: instant,
  by: z.string().describe('Who looked'),
})

const oilHoleState = z.enum(['open', 'masked', 'none']).describe('Oil hole of the pin lined up and open, masked, or this pin has none')
export const oilHole = z.strictObject({ ...recorded, state: oilHoleState })
export const oilHoleSeen = z.strictObject({ state: oilHoleState })
export const weldNew = z.strictObject({
  ...recorded,
  filler: optionalLine(80).optional().describe('Filler'),
  amps: z.int().min(WELD_AMPS.min).max(WELD_AMPS.max).optional().describe('Current, A'),
  note: optionalLine(400).optional().describe('Note'),
})
export const weld = z.strictObject({
  id,
  filler: z.string().optional().describe('Filler'),
  amps: z.int().optional().describe('Current, A'),
  note: z.string().optional().describe('Note'),
  by: z.string().describe('Who'),
  occurredAt: instant,
})

const fitOfPin = z
  .strictObject({
    left: fitOut.optional(),
    right: fitOut.optional(),
    ofOldPin: z.boolean().describe('The pin measured is the one that came out, not the kit’s'),
    shopFloorMm: z.number().optional().describe('Floor of the shop, mm on diameter'),
    scrapFloorMm: z.number().optional().describe('Scrap floor, mm on diameter'),
  })
  .describe('Fit of the pin in each web, from the latest pin and bore readings')

/** Everything measured on a job and what it comes to, in one answer. */
export const bench = z.strictObject({
  measurements: z.array(measurement).describe('All sets, oldest first, struck-out ones too'),
  pressings: z.array(pressing).describe('All pressings, oldest first, struck-out ones too'),
  welds: z.array(weld).describe('Welds, oldest first'),
  kit: kitOfJob.optional().describe('The kit that is named for it now'),
  fit: fitOfPin.optional(),
  width: widthOut.optional().describe('The two windows, where webs, rod and washers are measured'),
  ours: oursWidths.optional().describe('Our own last widths of this engine; absent where there are none'),
  fitStops: z
    .array(fitStop)
    .optional()
    .describe('What the owner decided where a pin is too loose in a web, oldest first; absent where nothing was'),
  build: engineBuild.optional().describe('How the crank is put together, by the sheet of its engine; absent: one throw with one rod'),
  trapped: trappedSeen.optional().describe('The last look at the parts between the webs; absent until somebody looked'),
  joints: z
    .array(
      z.strictObject({
        joint,
        says: z.string().describe('The joint as it is said, such as Throw 2'),
        kit: kitOfJob.optional().describe('The kit that is in it, where it has one of its own'),
        fit: fitOfPin.optional(),
        width: widthOut.optional().describe('The two windows, where its webs, rod and washers are measured'),
      }),
    )
    .optional()
    .describe('What it comes to joint by joint, of a crank with several throws; the kit above is then the one for all of them'),
})
export type Bench = z.infer<typeof bench>
