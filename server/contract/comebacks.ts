import { z } from 'zod'
import { COMEBACK_CAUSES, COMEBACK_HOW, COMEBACK_SHARES } from '#core/comeback.ts'
import { FINDINGS } from '#core/comeback-findings.ts'
import { JOB_KINDS } from '#core/steps.ts'
import { followUp, ridden, struckOut } from './follow-ups.ts'
import { jobState } from './jobs.ts'
import { kitOfJob } from './kits.ts'
import { calendarDate, id, instant, line, optionalLine, pageOf, pageQuery, prose, recorded, version } from './primitives.ts'

const how = z.enum(COMEBACK_HOW).describe('returned: the crank is here again; told: they told us of it')
const found = z.array(z.enum(FINDINGS)).max(FINDINGS.length).describe('What was found on the crank: facts alone')
const cause = z.enum(COMEBACK_CAUSES).describe('The cause, decided after looking')
const share = z.enum(COMEBACK_SHARES).describe('Whose it is: ours, the part’s, theirs, or not known')

/** A crank of ours came back, or is talked about as failed. Nothing is decided here. */
export const comebackNew = z.strictObject({
  ...recorded,
  day: calendarDate.describe('Day it came or was told of'),
  how,
  ...ridden,
  says: line(1000).describe('What they say is wrong; the bench reads it too, so no names'),
  thought: prose(1000).optional().describe('What is thought of it, apart from what is found'),
})
export type ComebackNew = z.infer<typeof comebackNew>

/** Fields that are not sent stay; null takes one away. */
export const comebackChange = z.strictObject({
  day: calendarDate.optional().describe('Day it came or was told of (counter and owner)'),
  hours: ridden.hours.unwrap().nullable().optional().describe('Hours ridden since it went home (counter and owner)'),
  hoursHow: ridden.hoursHow.optional(),
  says: line(1000).optional().describe('What they say is wrong (counter and owner)'),
  found: found.optional().describe('What was found on the crank (bench and owner)'),
  foundNote: prose(2000).nullable().optional().describe('What was found, in words, or why nothing could be looked at (bench and owner)'),
  thought: prose(1000).nullable().optional().describe('What is thought of it, apart from what is found'),
  cause: cause.nullable().optional().describe('The cause, decided after looking (owner)'),
  share: share.nullable().optional().describe('Whose it is (owner)'),
})
export type ComebackChange = z.infer<typeof comebackChange>

const jobNamed = z.strictObject({ id, tag: z.string().describe('Tag of the job, such as 318-V'), state: jobState })

const rowFields = {
  id,
  job: jobNamed.extend({ kind: z.enum(JOB_KINDS).describe('What was done') }).describe('The job it is a comeback of'),
  engine: z.string().describe('Maker and code'),
  engineId: id.describe('Its model sheet'),
  whose: z.string().optional().describe('Name of the customer (counter and owner only)'),
  day: calendarDate,
  how,
  ...ridden,
  says: z.string().optional().describe('What they say is wrong'),
  found,
  foundNote: z.string().optional().describe('What was found, in words'),
  thought: z.string().optional().describe('What is thought of it'),
  cause: cause.optional(),
  share: share.optional(),
  goneOn: calendarDate.optional().describe('Day the earlier job went home; absent where that step was taken back'),
  daysSince: z.int().optional().describe('Days from going home to the report'),
  counts: z.boolean().describe('Whether it counts as a comeback'),
  countsWhy: z.string().describe('Why it counts or does not, in a sentence'),
  lot: z.string().optional().describe('Lot of the kit that was fitted'),
  builders: z.array(z.string()).describe('Who built it'),
  lookedBy: z.string().optional().describe('Who looked at it'),
  lookedAt: instant.optional().describe('When they wrote down what they found'),
  lookedByBuilder: z.boolean().optional().describe('Whoever looked at it had built it; absent where nobody looked'),
  newJob: jobNamed.optional().describe('The job under which it is here again'),
  reportedBy: z.string().describe('Who wrote the report'),
  recordedAt: instant,
  struck: struckOut.optional().describe('Struck out: it counts no more'),
  version,
}
export const comebackRow = z.strictObject(rowFields)
export type ComebackRow = z.infer<typeof comebackRow>

export const COMEBACK_LISTS = ['open', 'all', 'struck'] as const
export const comebackQuery = z.strictObject({
  list: z
    .enum(COMEBACK_LISTS)
    .optional()
    .describe('open: no cause decided yet; all: those too, and they come first (the default); struck: what was struck out'),
  cause: z.enum(COMEBACK_CAUSES).optional().describe('Only of this cause'),
  lot: optionalLine(60).optional().describe('Only with a kit of this lot'),
  engine: id.optional().describe('Only of this engine'),
  person: id.optional().describe('Only built by this person'),
  ...pageQuery,
})
export const comebackPage = pageOf(comebackRow).extend({
  counts: z
    .strictObject({ open: z.int().describe('No cause decided yet'), all: z.int().describe('Not struck out') })
    .describe('How many there are, whatever is asked for'),
  today: calendarDate.describe('Today in the shop’s zone'),
})

/** A line of our sheet, as it printed, and beside it what the crank reads now. */
const sheetLine = z.strictObject({
  end: z.enum(['left', 'right']).optional().describe('Which end, where it is of one'),
  what: z.string().describe('What was measured'),
  said: z.string().describe('What our sheet said, mm; a dash where it was not read'),
  giveOrTake: z.string().describe('Give or take of that, mm'),
  allowed: z.string().describe('What was allowed, mm'),
  verdict: z.string().describe('What the sheet said of it'),
  past: z.boolean().describe('Past a limit'),
  now: z.string().optional().describe('As it came in again, mm; absent where it was not read'),
  repeats: z.boolean().optional().describe('The ends alone: it reads as our sheet said; absent where the two cannot be compared'),
})

export const sheetThen = z.strictObject({
  id,
  number: z.string().describe('Number of the sheet'),
  issuedOn: calendarDate,
  stands: z.enum(['stands', 'replaced', 'void']).describe('What became of the sheet'),
  lines: z.array(sheetLine).describe('Runout of each end, width, side clearance, play'),
  fit: z
    .strictObject({ left: z.string().describe('Left web, mm'), right: z.string().describe('Right web, mm') })
    .optional()
    .describe('Fit of the pin in each web; absent where it was not measured'),
  checkedBy: z.string().optional().describe('Who read it the second time'),
  signedBy: z.string().describe('Who signed it'),
  passes: z
    .array(z.strictObject({ what: z.string().describe('What was let pass'), reason: z.string().describe('Why') }))
    .describe('What the owner let pass'),
})
export type SheetThen = z.infer<typeof sheetThen>

export const comeback = z.strictObject({
  ...rowFields,
  customer: z
    .strictObject({
      id,
      name: z.string().describe('Name'),
      phone: z.string().optional().describe('Phone'),
      mail: z.string().optional().describe('Mail'),
      hearBy: z.string().describe('How they want to hear'),
    })
    .optional()
    .describe('Whose it is (counter and owner only)'),
  engineNumber: z.string().optional().describe('Engine or crank number'),
  oil: z.string().optional().describe('Fuel and oil, as said when it was booked in then'),
  usedFor: z.string().optional().describe('Use, as said then'),
  whoFits: z.string().optional().describe('Who fitted it, as said then'),
  kit: kitOfJob.optional().describe('The kit that was fitted'),
  sheet: sheetThen.optional().describe('What our sheet said then; absent where none was made'),
})
export type Comeback = z.infer<typeof comeback>

/** Another crank with a kit of the same lot. */
export const sameLotRow = z.strictObject({
  id: id.describe('The job'),
  tag: z.string().describe('Tag of the job, such as 318-V'),
  state: jobState,
  engine: z.string().describe('Maker and code'),
  kitWhose: z.enum(['ours', 'theirs']).describe('Whose kit'),
  goneOn: calendarDate.optional().describe('Day it went home; absent where it is still in the house'),
  stillOut: z.boolean().describe('It went home and has not come in again'),
  lastHeard: z
    .strictObject({
      day: calendarDate,
      runs: z.boolean().describe('Whether it ran well'),
      hours: z.number().optional().describe('Hours ridden by then'),
    })
    .optional()
    .describe('The last call about it'),
  comeback: z.strictObject({ id, day: calendarDate, cause: cause.optional() }).optional().describe('The report that it came back'),
  whose: z.string().optional().describe('Name of the customer (counter and owner only)'),
  phone: z.string().optional().describe('Phone (counter and owner only)'),
  mail: z.string().optional().describe('Mail (counter and owner only)'),
})
export const sameLotPage = pageOf(sameLotRow).extend({
  kit: kitOfJob.optional().describe('The kit and its lot; absent where none was named, and then there are no rows'),
  gone: z.int().describe('Cranks with this lot that went home, this one among them'),
  back: z.int().describe('How many of those have a report, this one among them'),
})
export const sameLotQuery = z.strictObject(pageQuery)

/** What was heard of a crank since it went home. */
export const sinceHome = z.strictObject({
  goneOn: calendarDate.optional().describe('Day it went home; absent where it has not'),
  report: comebackRow.optional().describe('The report that it came back'),
  hereFor: comebackRow.optional().describe('The report of an earlier job for which this job is here'),
  calls: z.array(followUp).describe('Calls since, newest first, struck ones too'),
  callDue: z.boolean().describe('It is to be rung now'),
  today: calendarDate.describe('Today in the shop’s zone'),
})
export type SinceHome = z.infer<typeof sinceHome>
