import { z } from 'zod'
import { FIT_VERDICTS } from '#core/fit.ts'
import {
  CONFIDENCE,
  COUNT_MOST,
  DIAL_DISTANCE_MM,
  DIAMETER_MM,
  FRICTION,
  HOURS,
  LENGTH_MM,
  LIST_MOST,
  NUMBER,
  PART_TEMPERATURE_C,
  PIN_HOLE_MM,
  POISSON,
  type Range,
  READING_MM,
  RIM_RADIUS_MM,
  STROKE_MM,
  SUPPORT_MM,
  TIR_MM,
  YOUNGS_GPA,
} from '#core/limits.ts'
import { TRUING_ACTIONS, TRUING_VERDICTS } from '#core/truing-moves.ts'

/** The wire of the bench sums. Lengths mm, angles degrees unless the name says Rad, hours decimal. */

function within(range: Range, what: string) {
  const text = `${range.min} to ${range.max}`
  return z.number().min(range.min, `From ${text}.`).max(range.max, `From ${text}.`).describe(`${what}; ${text}`)
}

function answeredNumber(what: string) {
  return z.number().describe(what)
}

const method = z
  .strictObject({
    name: z.string().describe('How it was worked out, no unit'),
    version: z.string().describe('Version of that method, no unit'),
  })
  .describe('Name and version of the method, so that a kept figure can be worked again')

const clockDeg = within(NUMBER, 'Clock angle in degrees, clockwise from the pin seen from the right-hand end')

// ---- truing

const endRead = z
  .strictObject({
    readings: z
      .array(z.strictObject({ clockDeg, mm: within(READING_MM, 'Reading of the dial with that mark under it, mm') }))
      .max(LIST_MOST)
      .optional()
      .describe(`Single readings round a turn, degrees and mm, at three or more different marks; at most ${LIST_MOST}`),
    tirMm: within(TIR_MM, 'Full swing of the dial, mm, instead of readings').optional(),
    highAtDeg: within(NUMBER, 'Where the dial reads highest, clock angle in degrees, with tirMm').optional(),
  })
  .superRefine((end, context) => {
    const given = Object.keys(end).filter((name) => end[name as keyof typeof end] !== undefined)
    if (given.length === 0) context.addIssue({ code: 'custom', path: ['readings'], message: 'Give readings, or tirMm with highAtDeg.' })
    if (end.readings !== undefined && given.length > 1) {
      context.addIssue({ code: 'custom', path: ['readings'], message: 'Give either readings or tirMm with highAtDeg, not both.' })
    }
    if (end.readings !== undefined || given.length !== 1) return
    const missing = end.tirMm === undefined ? 'tirMm' : 'highAtDeg'
    context.addIssue({ code: 'custom', path: [missing], message: `${missing} goes with what is given here.` })
  })
  .describe('What the dial of one end said, mm and degrees: either readings, or tirMm with highAtDeg')

function dial(end: string) {
  const { min, max } = DIAL_DISTANCE_MM
  const text = `From ${min} to ${max} outboard, from ${-max} to ${-min} inboard, never 0.`
  return z
    .number()
    .min(-max, text)
    .max(max, text)
    .refine((mm) => Math.abs(mm) >= min, text)
    .describe(`From the ${end} support to its dial, mm, + outboard, − inboard; ${min} to ${max} either way, never 0`)
    .optional()
}

/** What an end must bring, unless its own main is held true. */
const NEEDED = [
  ['supportLeftMm', 'left'],
  ['supportRightMm', 'right'],
  ['dialLeftMm', 'left'],
  ['dialRightMm', 'right'],
  ['left', 'left'],
  ['right', 'right'],
] as const

const truingFields = z.strictObject({
  strokeMm: within(STROKE_MM, 'Stroke, mm'),
  supportLeftMm: within(SUPPORT_MM, 'Crank centre (pin mid-plane) to where the left shaft is held, mm').optional(),
  supportRightMm: within(SUPPORT_MM, 'Crank centre (pin mid-plane) to where the right shaft is held, mm').optional(),
  dialLeftMm: dial('left'),
  dialRightMm: dial('right'),
  left: endRead.optional(),
  right: endRead.optional(),
  held: z
    .enum(['both', 'left', 'right'])
    .optional()
    .describe(
      'Which shafts rest in their supports, no unit; both unless said. left or right: that main held true in a lathe, its own figures not needed',
    ),
  limitTirMm: z
    .union(
      [
        within(TIR_MM, 'Allowed full swing at both ends, mm'),
        z.strictObject({
          leftMm: within(TIR_MM, 'Allowed full swing at the left, mm'),
          rightMm: within(TIR_MM, 'Allowed full swing at the right, mm'),
        }),
      ],
      'One number, or leftMm and rightMm.',
    )
    .optional()
    .describe(`Allowed full swing of the dial, mm, one for both ends or one each; ${TIR_MM.min} to ${TIR_MM.max}`),
  rimRadiusMm: within(RIM_RADIUS_MM, 'Shaft centre to rim of the web, mm; half the stroke and 20 unless said').optional(),
  readingDoubtMm: within(TIR_MM, 'What these dials cannot tell from nothing, full swing in mm; 0 unless said').optional(),
})

/** Each lack is named at its field, even where other fields are at fault too. */
export const truingIn = NEEDED.reduce(
  (schema, [name, end]) =>
    schema.refine((body) => body.held === end || body[name] !== undefined, {
      path: [name],
      message: 'Needed, unless this main is held true.',
      when: ({ value }) => typeof value === 'object' && value !== null,
    }),
  truingFields,
).describe('Two dials over one turn of the crank; lengths mm, angles degrees')
export type TruingIn = z.infer<typeof truingIn>

const endAnswer = z
  .strictObject({
    tirMm: answeredNumber('Full swing of the dial, mm'),
    highAtDeg: answeredNumber('High spot, clock angle in degrees, 0 up to but not 360'),
    residualMm: answeredNumber('Root mean square of what the fit leaves, mm; absent where a full swing was given').optional(),
  })
  .describe('What one end reads, mm and degrees')

const move = z
  .strictObject({
    action: z.enum(TRUING_ACTIONS).describe('What the hand does, no unit'),
    half: z.enum(['left', 'right']).optional().describe('The web that is struck, no unit; a strike only'),
    atDeg: answeredNumber('Rim mark that takes the blow, clock angle in degrees; a strike only').optional(),
    amountMm: answeredNumber(
      'How far it should go, mm: sideways at the rim opposite the pin, or change of the rim gap there; 0 for part and leave',
    ),
    say: z.string().describe('The move in bench words, no unit'),
  })
  .describe('One move; amounts mm, angles degrees')

const moves = z.array(move).describe('Moves, the one to make now first; amounts mm')
const swingMm = answeredNumber('Right half carried towards mark 3 (+), mm at the crank centre')

const truingOnSupportsOut = z.strictObject({
  left: endAnswer,
  right: endAnswer,
  faults: z
    .strictObject({
      swingMm,
      openRad: answeredNumber('Webs wider apart opposite the pin (+), radians'),
      throwMm: answeredNumber('Right shaft away towards the pin (+), mm at the crank centre'),
      cockedRad: answeredNumber('Right shaft leaning to mark 3 going outward (+), radians'),
    })
    .describe('All that is wrong between the two shafts, mm and radians'),
  verdict: z.enum(TRUING_VERDICTS).describe('What it comes to, no unit; never true, throw or cocked without a limit'),
  bestReachable: z
    .strictObject({
      leftTirMm: answeredNumber('Full swing left at the left end, mm'),
      rightTirMm: answeredNumber('Full swing left at the right end, mm'),
      swingMm: answeredNumber('Swing to aim at, mm'),
      openRad: answeredNumber('Opening of the webs to aim at, radians'),
    })
    .describe('The best that strikes, wedges and squeezes can still give, mm and radians'),
  moves,
  method,
})

const truingHeldOut = z.strictObject({
  left: endAnswer.optional(),
  right: endAnswer.optional(),
  faults: z.strictObject({ swingMm }).describe('The swing, mm, if the pin is not cocked'),
  verdict: z.literal('swing').describe('Nothing else can be told with one main held true, no unit'),
  moves,
  method,
})

export const truingOut = z
  .union([truingOnSupportsOut, truingHeldOut])
  .describe('What is wrong with the crank and what to do; the short form with one main held true; lengths mm, angles degrees or radians')
export type TruingOut = z.infer<typeof truingOut>

// ---- width

/** A window whose ends must stand the right way round; the fault is shown at the greater end. */
function window(what: string) {
  return z
    .strictObject({ minMm: within(LENGTH_MM, `Least ${what}, mm`), maxMm: within(LENGTH_MM, `Greatest ${what}, mm`) })
    .refine(({ minMm, maxMm }) => minMm <= maxMm, { path: ['maxMm'], message: 'No less than minMm.' })
    .describe(`Window of the ${what}, mm, both ends allowed`)
}

export const widthIn = z
  .strictObject({
    webLeftMm: within(LENGTH_MM, 'Thickness of the left web beside the bore, mm'),
    webRightMm: within(LENGTH_MM, 'Thickness of the right web beside the bore, mm'),
    rodWidthMm: within(LENGTH_MM, 'Width of the rod at the big end, mm'),
    washersMm: z
      .array(within(LENGTH_MM, 'Thickness of one thrust washer, mm'))
      .max(LIST_MOST)
      .describe(`Thrust washers, mm each, none to ${LIST_MOST}`),
    clearance: window('side clearance'),
    width: window('width over the webs'),
    widthNowMm: within(LENGTH_MM, 'Width over the webs as it measures now, mm').optional(),
    partTemperatureC: within(PART_TEMPERATURE_C, 'Temperature of the crank when that was measured, °C; 20 unless said').optional(),
  })
  .describe('Stack of the big end and its two windows, mm at 20 °C')

export const widthOut = z
  .strictObject({
    stackMm: answeredNumber('Webs, rod and washers one on another, mm'),
    window: z
      .strictObject({
        minMm: answeredNumber('Least width that meets both windows, mm'),
        maxMm: answeredNumber('Greatest width that meets both windows, mm'),
      })
      .nullable()
      .describe('Widths that meet both windows, mm; null when there is none'),
    aim: z
      .strictObject({ widthMm: answeredNumber('Width to aim at, mm'), clearanceMm: answeredNumber('Side clearance at that width, mm') })
      .optional()
      .describe('Middle of the window, mm; absent when there is none'),
    possible: z.boolean().describe('Whether any width meets both windows, no unit'),
    clearanceNowMm: answeredNumber('Side clearance as it is now, mm').optional(),
    toGoMm: answeredNumber('Width now less the aim, mm: + is still to press').optional(),
    method,
  })
  .describe('The width to press to, mm at 20 °C')

// ---- fit

const metal = z.strictObject({
  youngsGPa: within(YOUNGS_GPA, 'Young’s modulus, GPa; 205 unless said').optional(),
  poisson: within(POISSON, 'Poisson’s ratio, no unit; 0.29 unless said').optional(),
})

export const fitIn = z
  .strictObject({
    pinMm: z
      .array(within(DIAMETER_MM, 'One reading of the pin, mm'))
      .min(1, 'At least one reading of the pin.')
      .max(LIST_MOST)
      .describe('Diameters of the pin end that sits in this web, mm'),
    boreMm: z
      .array(within(DIAMETER_MM, 'One reading of the bore, mm'))
      .min(1, 'At least one reading of the bore.')
      .max(LIST_MOST)
      .describe('Diameters of this web’s bore, mm'),
    engagementMm: within(LENGTH_MM, 'Length of pin in the bore, mm'),
    webOuterMm: within(
      DIAMETER_MM,
      'Outer diameter of the ring of metal that carries the pin, not the rim, mm, more than the bore; twice the bore unless said',
    ).optional(),
    pinHoleMm: within(PIN_HOLE_MM, 'Bore of a hollow pin, mm, less than the bore; 0 unless said').optional(),
    pin: metal.optional().describe('Metal of the pin, GPa and a ratio; steel unless said'),
    web: metal.optional().describe('Metal of the web, GPa and a ratio; steel unless said'),
    friction: z
      .strictObject({ low: within(FRICTION, 'Least friction, no unit'), high: within(FRICTION, 'Greatest friction, no unit') })
      .refine(({ low, high }) => low <= high, { path: ['high'], message: 'No less than low.' })
      .optional()
      .describe('Friction between pin and bore, no unit; 0.12 to 0.20 unless said'),
    floorMm: within(LENGTH_MM, 'Interference under which the web is scrap, mm; 0.0022 × bore unless said').optional(),
    shopFloorMm: within(LENGTH_MM, 'Interference under which the shop asks for a better fit, mm').optional(),
  })
  .superRefine((body, context) => {
    const bore = body.boreMm.reduce((greatest, mm) => Math.max(greatest, mm), 0)
    // A bore that is at fault itself says nothing about the ring and the hole.
    if (bore < DIAMETER_MM.min || bore > DIAMETER_MM.max) return
    if (body.webOuterMm !== undefined && body.webOuterMm <= bore) {
      context.addIssue({ code: 'custom', path: ['webOuterMm'], message: 'More than the greatest bore.' })
    }
    if (body.pinHoleMm !== undefined && body.pinHoleMm >= bore) {
      context.addIssue({ code: 'custom', path: ['pinHoleMm'], message: 'Less than the greatest bore.' })
    }
  })
  .describe('One pin end and the bore it sits in, mm')

export const fitOut = z
  .strictObject({
    interferenceMm: answeredNumber('Least pin less greatest bore, on the diameter, mm; less than 0 when the pin is loose'),
    pressureMPa: answeredNumber('Pressure between pin and bore, MPa'),
    boreHoopMPa: answeredNumber('Hoop stress in the web at the bore, MPa'),
    pressForceKN: z
      .strictObject({ low: answeredNumber('With the least friction, kN'), high: answeredNumber('With the greatest friction, kN') })
      .describe('Force to press it home or off, kN'),
    torqueNm: z
      .strictObject({ low: answeredNumber('With the least friction, N·m'), high: answeredNumber('With the greatest friction, N·m') })
      .describe('What it holds against turning about the pin, N·m'),
    verdict: z.enum(FIT_VERDICTS).describe('Against the two floors, no unit'),
    method,
  })
  .describe('What the fit holds, mm, MPa, kN and N·m')

// ---- learning

function crankNumber(what: string) {
  return z
    .number()
    .gt(0, 'More than 0.')
    .max(COUNT_MOST, `No more than ${COUNT_MOST}.`)
    .describe(`${what}, a count, more than 0, at most ${COUNT_MOST}; need not be whole`)
}

export const learningIn = z
  .strictObject({
    points: z
      .array(z.strictObject({ n: crankNumber('Which crank it was'), hours: within(HOURS, 'Hours it took') }))
      .max(LIST_MOST)
      .describe(`Cranks and their hours, three or more at two or more different n; at most ${LIST_MOST}`),
    confidence: within(CONFIDENCE, 'Share of intervals that hold the truth, no unit; 0.95 unless said').optional(),
    targetHours: within(HOURS, 'Hours aimed at').optional(),
    predictAt: z
      .array(crankNumber('A crank to foretell'))
      .max(LIST_MOST)
      .optional()
      .describe(`Cranks to foretell, a count each; at most ${LIST_MOST}`),
  })
  .describe('Hours of a hand’s cranks in order')

const highHours = answeredNumber('High end, hours; absent where it lies beyond every number').optional()

function interval(what: string) {
  return z
    .strictObject({ low: answeredNumber(`Low end, ${what}`), high: answeredNumber(`High end, ${what}`) })
    .describe(`Confidence interval, ${what}`)
}

export const learningOut = z
  .strictObject({
    power: z
      .strictObject({
        firstHours: answeredNumber('Where the line stands at n = 1, hours'),
        exponent: answeredNumber('Exponent of n, no unit; less than 0 when the hours fall'),
        rate: answeredNumber('What a doubling of n leaves of the hours, 2 to the exponent, no unit'),
        rSquared: answeredNumber(
          'Share of the scatter of ln hours that the line explains, no unit; absent when all hours are the same',
        ).optional(),
        residualSd: answeredNumber('Scatter about the line in natural logarithms of hours, n − 2 degrees of freedom'),
        firstHoursInterval: z
          .strictObject({ low: answeredNumber('Low end, hours'), high: highHours })
          .describe('Confidence interval, hours'),
        exponentStandardError: answeredNumber('Standard error of the exponent, no unit'),
        exponentInterval: interval('no unit'),
      })
      .describe('Power law of the unit times: hours = firstHours × n to the exponent; hours'),
    predictions: z
      .array(
        z.strictObject({
          n: answeredNumber('The crank foretold, a count'),
          hours: answeredNumber('Hours on the line'),
          low: answeredNumber('Low end of the interval for one new crank, hours'),
          high: highHours,
        }),
      )
      .describe('Hours foretold for each n of predictAt'),
    reachesTarget: z
      .strictObject({
        n: answeredNumber('Where the line meets the target, a count'),
        low: answeredNumber('Where the nearer edge of the confidence band meets it, a count; absent where it never does').optional(),
        high: answeredNumber('Where the farther edge of the confidence band meets it, a count; absent where it never does').optional(),
      })
      .nullable()
      .optional()
      .describe('Crank at which the line meets targetHours, a count; null when the exponent’s interval reaches 0'),
    method,
  })
  .describe('The learning line, hours')
