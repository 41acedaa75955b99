import { z } from 'zod'
import { JOB_KINDS } from '#core/steps.ts'
import { calendarDate, id, instant, line, pageOf, pageQuery, prose, recorded } from './primitives.ts'

/** Hours ridden since a crank went home, and how they are known; one without the other is refused. */
export const ridden = {
  hours: z.number().min(0).max(100_000).optional().describe('Hours ridden since it went home'),
  hoursHow: z.enum(['metered', 'declared', 'unknown']).describe('How those hours are known; unknown where there are none'),
}

/** A call after it went home: does it run? */
export const followUpNew = z.strictObject({
  ...recorded,
  day: calendarDate.describe('Day of the call'),
  runs: z.boolean().describe('Whether it runs well'),
  ...ridden,
  says: prose(600).optional().describe('What they said; the bench reads it too, so no names'),
})
export type FollowUpNew = z.infer<typeof followUpNew>

export const struckOut = z.strictObject({
  by: z.string().describe('Who struck it out'),
  at: instant,
  because: z.string().describe('Why'),
})
export const strikeOut = z.strictObject({ ...recorded, reason: line(400).describe('Why it is struck out') })

export const followUp = z.strictObject({
  id,
  day: calendarDate,
  runs: z.boolean().describe('Whether it ran well'),
  ...ridden,
  says: z.string().optional().describe('What they said'),
  by: z.string().describe('Who spoke with them'),
  recordedAt: instant,
  struck: struckOut.optional().describe('Struck out: it counts no more'),
})
export type FollowUp = z.infer<typeof followUp>

export const callDue = z.strictObject({
  id: id.describe('The job'),
  tag: z.string().describe('Tag of the job, such as 318-V'),
  kind: z.enum(JOB_KINDS).describe('What was done'),
  engine: z.string().describe('Maker and code'),
  goneOn: calendarDate.describe('Day it went home'),
  daysGone: z.int().describe('Days since then'),
  usedFor: z.string().optional().describe('Use: enduro, trials, road, kart and so on'),
  whose: z.string().describe('Name of the customer'),
  phone: z.string().optional().describe('Phone'),
  mail: z.string().optional().describe('Mail'),
  hearBy: z.string().describe('How they want to hear'),
})
export const callPage = pageOf(callDue).extend({
  due: z.int().describe('How many are to be rung in all'),
  rule: z.string().describe('Which cranks these are, in words'),
  today: calendarDate.describe('Today in the shop’s zone'),
})
export const callQuery = z.strictObject(pageQuery)
