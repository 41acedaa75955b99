import { z } from 'zod'
import { WELD_AMPS } from '#core/limits.ts'
import { joint } from './crank-build.ts'
import { gaugeRead } from './odd-readings.ts'
import { id, instant, line, optionalLine, recorded } from './primitives.ts'

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
