import { z } from 'zod'
import { WAITING_FOR } from '#core/steps.ts'
import { calendarDate, instant, optionalLine, recorded } from './primitives.ts'

export const wait = z.strictObject({
  what: z.enum(WAITING_FOR).describe('What it waits for'),
  note: z.string().optional().describe('What exactly'),
  since: instant,
  dueOn: calendarDate.optional().describe('When that is due'),
})
export const waitNew = z.strictObject({
  ...recorded,
  what: z.enum(WAITING_FOR).describe('What it is'),
  note: optionalLine().optional().describe('Note'),
  dueOn: calendarDate.optional(),
})
export const waitEnd = z.strictObject({
  ...recorded,
  what: z.enum(WAITING_FOR).describe('What it is'),
  lot: optionalLine(60).optional().describe('Lot number of the kit that came in'),
})
