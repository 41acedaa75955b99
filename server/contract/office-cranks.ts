/** The cranks behind a figure. Owner only. */
import { z } from 'zod'
import { CRANK_FIGURES } from '#core/office-rules.ts'
import { WAITING_FOR } from '#core/steps.ts'
import { jobKind, jobState } from './jobs.ts'
import { comebackCause } from './office-came-back.ts'
import { count, figure, hours, minor, tag, windowQuery } from './office-parts.ts'
import { calendarDate, id, instant, pageOf, pageQuery } from './primitives.ts'

/** The filters of every list of cranks; those that a figure does not know are refused. */
export const cranksFilters = {
  figure: z.enum(CRANK_FIGURES).describe('Which figure'),
  from: windowQuery.from,
  to: windowQuery.to,
  kind: jobKind.optional().describe('Only this kind of job'),
  engine: id.optional().describe('Only cranks of this engine'),
  person: z
    .union([id, z.literal('none')])
    .optional()
    .describe('Only cranks that this person called true; none: nobody did'),
  lot: z
    .union([id, z.literal('none')])
    .optional()
    .describe('Only cranks with a kit of this lot; none: no kit named'),
  notLot: id.optional().describe('Only cranks with a kit of another lot'),
  cause: z
    .union([comebackCause, z.literal('none')])
    .optional()
    .describe('Only those that came back from this cause; none: not decided'),
  back: z.enum(['yes', 'no']).optional().describe('Only those that came back, or only the others'),
  waiting: z.enum(WAITING_FOR).optional().describe('Only those that wait for this'),
}
export const cranksQuery = z.strictObject({ ...cranksFilters, ...pageQuery })
export const cranksCsvQuery = z.strictObject({
  ...cranksFilters,
  separator: z
    .enum(['comma', 'semicolon'])
    .optional()
    .describe('comma with a decimal point (unless said), or semicolon with a decimal comma'),
})
export const csvSeparator = cranksCsvQuery.shape.separator

export const officeCrank = z.strictObject({
  id,
  tag,
  number: z.int().describe('Running number of the job'),
  kind: jobKind,
  state: jobState,
  engine: z.string().describe('Maker and code of the engine'),
  whose: z.string().describe('Name of the customer'),
  bookedOn: calendarDate.describe('Day it was booked in'),
  promisedOn: calendarDate.optional().describe('Day it is promised'),
  outOn: calendarDate.optional().describe('Day it left'),
  days: z.int().min(0).optional().describe('Days in the house, of those that left'),
  truedBy: z.string().optional().describe('Who called it true'),
  lot: z.string().optional().describe('Maker, part and lot of its kit'),
  checkedOn: calendarDate.optional().describe('Day of the first check by the second person'),
  firstCheck: z.enum(['within', 'over']).optional().describe('That check against the house limit'),
  backOn: calendarDate.optional().describe('Day of the report that it came back'),
  backHours: hours('Hours ridden when it came back').optional(),
  cause: comebackCause.optional(),
  heardHours: hours('Hours ridden when last heard of').optional(),
  benchHours: hours('Bench hours clocked on it').optional(),
  priceMinor: minor('Agreed price without tax').optional(),
  owesMinor: minor('Agreed and not paid').optional(),
  depositMinor: minor('Deposit held').optional(),
  waitingSince: instant.optional().describe('Since when it waits (lists of what waits only)'),
})
export type OfficeCrank = z.infer<typeof officeCrank>
export const officeCranks = pageOf(officeCrank).extend({
  figure: z.enum(CRANK_FIGURES).describe('Which figure'),
  rule: figure.rule,
  n: count('So many in all'),
  csv: figure.csv,
  from: calendarDate.optional().describe('First day counted'),
  to: calendarDate.optional().describe('Last day counted'),
  title: z.string().describe('What is listed, in words'),
})
export type OfficeCranks = z.infer<typeof officeCranks>
