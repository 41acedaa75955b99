import { z } from 'zod'
import { calendarDate, id, line, version } from './primitives.ts'

export const INSTRUMENT_KINDS = ['dial', 'micrometer', 'bore-gauge', 'feeler', 'press-gauge', 'thermometer', 'setting-rod'] as const
export const instrumentNew = z.strictObject({
  id: id.optional(),
  name: line(60).describe('Name as the bench calls it, such as dial 4'),
  kind: z.enum(INSTRUMENT_KINDS).describe('What it is'),
  stepMm: z.number().gt(0).max(10).describe('One division, mm'),
  checkedOn: calendarDate.optional().describe('Day of its last check'),
  dueOn: calendarDate.optional().describe('Day its next check is due'),
})
export const instrumentChange = z.strictObject({
  name: line(60).optional().describe('Name'),
  checkedOn: calendarDate.optional(),
  dueOn: calendarDate.optional(),
  ended: z.boolean().optional().describe('true: no longer used'),
})
export const instrument = instrumentNew.extend({
  id,
  overdue: z.boolean().describe('Its check was due before today'),
  ended: z.boolean().describe('No longer used'),
  version,
})
export type Instrument = z.infer<typeof instrument>
