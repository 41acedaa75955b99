/** In and out by week with Little’s law beside its parts, days in the house. Owner only. */
import { z } from 'zod'
import { jobKind } from './jobs.ts'
import { count, days, figure } from './office-parts.ts'
import { calendarDate } from './primitives.ts'

export const flowQuery = z.strictObject({
  weeks: z.coerce.number().int().min(1).max(104).optional().describe('So many weeks, this one included; 12 unless said'),
  kind: jobKind.optional().describe('Only this kind of job; all kinds unless said'),
})
const stay = {
  n: count('Cranks that left in these weeks'),
  half: days('Half of them had left after so many').optional(),
  seventeenIn20: days('17 in 20 of them had left after so many').optional(),
  mean: days('Mean').optional(),
}
export const officeFlow = z.strictObject({
  ...figure,
  from: calendarDate.describe('Monday of the first week'),
  to: calendarDate.describe('Today, the last day counted'),
  kind: jobKind.optional().describe('Only this kind of job'),
  weeks: z
    .array(
      z.strictObject({
        week: z.string().describe('ISO week, such as 2026-W48'),
        from: calendarDate.describe('Its Monday'),
        in: count('Cranks booked in'),
        out: count('Cranks that left: gone home, given back, scrapped'),
        cranksIn: z.string().describe('Query of GET /api/office/cranks for those that came in'),
        cranksOut: z.string().describe('Query of GET /api/office/cranks for those that left'),
      }),
    )
    .describe('Week by week, the oldest first, weeks without any included'),
  in: count('Booked in during all these weeks'),
  out: count('Left during all these weeks'),
  little: z
    .strictObject({
      rule: figure.rule,
      inHandNow: count('Cranks in the house now'),
      days: z.int().min(1).describe('Days from the first Monday to today, today included'),
      perDay: z.number().min(0).describe('Cranks that left a day'),
      meanDays: days('Mean days in the house of those that left').optional(),
      daysAtThisPace: days('inHandNow / perDay: how long a crank stays where as many leave a day as did').optional(),
      product: z.number().min(0).optional().describe('perDay × meanDays, cranks: what would be in hand if nothing changed'),
    })
    .describe('Little’s law beside its parts: in hand = a day × days here'),
  stay: z
    .strictObject({
      ...figure,
      all: z.strictObject(stay).describe('All kinds, or the kind asked for'),
      byKind: z.array(z.strictObject({ kind: jobKind, ...stay })).describe('Each kind of job that left in these weeks'),
    })
    .describe('Days in the house of those that left'),
})
export type OfficeFlow = z.infer<typeof officeFlow>
