import { z } from 'zod'
import { DIAL_DISTANCE_MM, LIST_MOST, NUMBER, READING_MM, RIM_RADIUS_MM, STROKE_MM, SUPPORT_MM, TIR_MM } from '#core/limits.ts'
import { TRUING_ACTIONS, TRUING_TOOLS, TRUING_VERDICTS } from '#core/truing-moves.ts'
import { answeredNumber, method, within } from './sum-figures.ts'

const clockDeg = within(NUMBER, 'Clock angle in degrees, clockwise from the pin seen from the right-hand end')

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
    tool: z
      .enum(TRUING_TOOLS)
      .optional()
      .describe(
        'What it is done with, no unit: hammer of copper, brass or lead; soft jaws of a vice or a clamp; wedge of hardwood or brass; press. Absent where it is left alone, and in sums kept from before it was named',
      ),
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
