import { z } from 'zod'
import { AUDIT_THINGS, type AuditThing } from '#core/audit-words.ts'
import { calendarDate, id, instant, line, pageOf, pageQuery } from './primitives.ts'

const THINGS = Object.keys(AUDIT_THINGS) as [AuditThing, ...AuditThing[]]
const thing = z.enum(THINGS).describe('Kind of thing; what belongs to a job (readings, hours, photos, sheets) counts as the job')

export const auditQuery = z.strictObject({
  person: id.optional().describe('Only what this person did'),
  thing: thing.optional(),
  id: id.optional().describe('Only the history of this one; of a customer with those that became one with it. Needs thing'),
  action: line(60).optional().describe('Only this action, by its short name'),
  from: calendarDate.optional().describe('From this day on, in the shop’s zone'),
  to: calendarDate.optional().describe('Up to and with this day, in the shop’s zone'),
  ...pageQuery,
})
export type AuditQuery = z.infer<typeof auditQuery>

export const auditLine = z.strictObject({
  seq: z.int().describe('Place in the chain, counted from 1'),
  at: instant.describe('When the book wrote it down'),
  by: z.string().optional().describe('Who did it; absent where the book did it by itself'),
  byId: id.optional(),
  action: z.string().describe('Short stable name of what was done'),
  did: z.string().describe('What was done in plain words, as it follows the name'),
  about: z
    .strictObject({
      thing: thing.optional(),
      id: id.optional().describe('The thing itself; of readings, hours, photos and sheets their job'),
      says: z.string().describe('What it is called: a tag, a name, a model; empty for the settings'),
    })
    .describe('To which thing'),
  changes: z
    .array(
      z.strictObject({
        field: z.string().describe('Name of the field on the wire'),
        label: z.string().describe('What the field is called'),
        before: z.string().optional().describe('What stood before, in words; absent where nothing did'),
        after: z.string().optional().describe('What stands after, in words; absent where nothing does'),
      }),
    )
    .describe('What differs; empty where nothing was kept'),
  reason: z.string().optional().describe('The reason given'),
  kept: z
    .enum(['whole', 'out-of-sight', 'taken-out'])
    .describe('whole; out-of-sight: a first reading, hidden until the second is in; taken-out: what it said was removed, its hash stays'),
})
export type AuditLine = z.infer<typeof auditLine>
export const auditPage = pageOf(auditLine)

export const auditCheckQuery = z.strictObject({
  after: z.coerce
    .number()
    .int()
    .min(0)
    .max(1_000_000_000_000)
    .optional()
    .describe('Last row checked before; from the first row unless said'),
})
export const auditCheck = z.strictObject({
  after: z.int().describe('The row that this piece follows'),
  upTo: z.int().describe('Last row of this piece that holds'),
  rows: z.int().describe('Rows in the chain now'),
  head: z.string().describe('Hash of that last row, in hexadecimal; written down elsewhere it shows a cut tail'),
  fault: z
    .strictObject({ seq: z.int().describe('First row that does not hold'), says: z.string().describe('What is wrong with it') })
    .nullable()
    .describe('Where the chain breaks; null where it holds so far'),
  next: z.int().nullable().describe('Send as after for the next piece; null at the end or at a fault'),
})
export type AuditCheck = z.infer<typeof auditCheck>
