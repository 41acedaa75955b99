import { z } from 'zod'
import { calendarDate, id, instant, line, version } from './primitives.ts'

export const INSTRUMENT_KINDS = ['dial', 'micrometer', 'bore-gauge', 'feeler', 'press-gauge', 'thermometer', 'setting-rod'] as const
const ofDial = z.number().min(0).max(1)
const errorMm = ofDial.describe('Greatest error within a tenth of a turn of a dial, mm')
const retraceMm = ofDial.describe('Difference between going up and coming back of a dial, mm')
const repeatMm = ofDial.describe('How far a dial read again and again comes apart, mm')

export const instrumentNew = z.strictObject({
  id: id.optional(),
  name: line(60).describe('Name as the bench calls it, such as dial 4'),
  kind: z.enum(INSTRUMENT_KINDS).describe('What it is'),
  stepMm: z.number().gt(0).max(10).describe('One division, mm'),
  errorMm: errorMm.optional(),
  retraceMm: retraceMm.optional(),
  repeatMm: repeatMm.optional(),
  checkedOn: calendarDate.optional().describe('Day of its last check'),
  dueOn: calendarDate.optional().describe('Day its next check is due'),
  note: line().optional().describe('What else the bench should know of it'),
})
export const instrumentChange = z.strictObject({
  name: line(60).optional().describe('Name'),
  errorMm: errorMm.nullable().optional().describe('Greatest error within a tenth of a turn of a dial, mm; null: not known'),
  retraceMm: retraceMm.nullable().optional().describe('Difference between going up and coming back of a dial, mm; null: not known'),
  repeatMm: repeatMm.nullable().optional().describe('How far a dial read again and again comes apart, mm; null: not known'),
  checkedOn: calendarDate.optional(),
  dueOn: calendarDate.optional(),
  note: line().nullable().optional().describe('What else the bench should know of it; null: nothing'),
  ended: z.boolean().optional().describe('true: no longer used'),
})
export const CHECK_KINDS = ['check', 'zero', 'dropped'] as const
export type CheckKind = (typeof CHECK_KINDS)[number]
export const instrumentDoubt = z.strictObject({
  fault: id.describe('Id of the check, zero or fall that put it in doubt'),
  kind: z.enum(CHECK_KINDS).describe('What put it in doubt: a check or a zero that did not hold, or a fall'),
  since: instant.describe('When that was, RFC 3339'),
})
export const instrument = instrumentNew.extend({
  id,
  overdue: z.boolean().describe('Its check was due before today'),
  ended: z.boolean().describe('No longer used'),
  zeroedAt: instant.optional().describe('When it last held its zero, RFC 3339'),
  doubt: instrumentDoubt.optional().describe('Why it is in doubt and signs nothing; absent where it is not'),
  version,
})
export type Instrument = z.infer<typeof instrument>
