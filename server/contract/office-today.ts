/** What stands in the shop today: late, promised, waiting, ready, instruments due. Owner only. */
import { z } from 'zod'
import { HOUR_BASES } from '#core/office-hours.ts'
import { WAITING_FOR } from '#core/steps.ts'
import { INSTRUMENT_KINDS } from './instruments.ts'
import { jobKind, jobState } from './jobs.ts'
import { count, figure, hours, minor, tag } from './office-parts.ts'
import { calendarDate, id, instant } from './primitives.ts'

const line = z.strictObject({
  id,
  tag,
  engine: z.string().describe('Maker and code of the engine'),
  whose: z.string().describe('Name of the customer'),
  kind: jobKind,
  state: jobState,
  says: z.string().describe('Why, or since when, in words'),
})

export const officeToday = z.strictObject({
  today: calendarDate.describe('Today in the shop’s zone'),
  now: instant.describe('When this was read'),
  late: z
    .strictObject({
      ...figure,
      rows: z
        .array(
          line.extend({
            promisedOn: calendarDate.describe('The promise'),
            daysLate: z.int().min(1).describe('Days past the promise'),
            reasons: z.array(z.string()).min(1).describe('Why it is late, each in words, the weightiest first'),
            toldLate: z.boolean().describe('The customer has been told since it became late'),
          }),
        )
        .describe('The latest promise-breakers first, at most 50; n counts all'),
    })
    .describe('What is late and why'),
  promised: z
    .strictObject({
      ...figure,
      from: calendarDate.describe('Monday of this week'),
      to: calendarDate.describe('Sunday of this week'),
      hours: hours('Bench hours that the cranks promised this week still ask for'),
      lateHours: hours('Bench hours that the late cranks promised before this week still ask for, beside them'),
      freeHours: hours('Bench hours that are left of this week'),
      weekHours: hours('Hands-on bench hours of a whole week, as set'),
      clockedHours: hours('Bench hours clocked this week so far'),
      fits: z.boolean().describe('hours and lateHours together are no more than freeHours'),
      rows: z
        .array(
          line.extend({
            promisedOn: calendarDate.describe('The promise'),
            expectedHours: hours('What such a crank takes'),
            clockedHours: hours('What is clocked on it'),
            leftHours: hours('What it still asks for'),
            basis: z.enum(HOUR_BASES).describe('Where the expected hours are from: the engine’s last ones, the shop’s, or the shop’s aim'),
          }),
        )
        .describe('By promise, at most 50; n and hours count all'),
    })
    .describe('Promised this week against the bench hours left of it'),
  waiting: z
    .strictObject({
      ...figure,
      of: z
        .array(
          z.strictObject({
            what: z.enum(WAITING_FOR).describe('What for'),
            n: count('Cranks that wait for it'),
            oldestSince: instant.describe('Since when the longest waits'),
            oldestDays: z.int().min(0).describe('Days since then, by the calendar of the shop'),
            cranks: z.string().describe('Query of GET /api/office/cranks for these'),
          }),
        )
        .describe('What they wait for, kit, yes, outside; only what somebody waits for'),
      rows: z
        .array(
          line.extend({
            what: z.enum(WAITING_FOR).describe('What it waits for'),
            note: z.string().optional().describe('What exactly'),
            since: instant.describe('Since when'),
            days: z.int().min(0).describe('Days since then, by the calendar of the shop'),
            dueOn: calendarDate.optional().describe('When that is due'),
            overdue: z.boolean().describe('It was due before today'),
          }),
        )
        .describe('The longest first, at most 50; n counts all'),
    })
    .describe('What waits, and since when'),
  ready: z
    .strictObject({
      ...figure,
      owesMinor: minor('Agreed and not paid on them together'),
      oldestDays: z.int().min(0).optional().describe('Days since the one that is longest ready; absent where none is'),
      rows: z
        .array(
          line.extend({
            readySince: instant.describe('Since when it is signed'),
            days: z.int().min(0).describe('Days since then, by the calendar of the shop'),
            owesMinor: minor('Agreed and not paid').optional(),
            goesBy: z.enum(['counter', 'carrier']).describe('Fetched at the counter or sent by carrier'),
          }),
        )
        .describe('The longest first, at most 50; n and owesMinor count all'),
    })
    .describe('Ready to go home and not fetched, with the money on the shelf'),
  instruments: z
    .strictObject({
      ...figure,
      rows: z
        .array(
          z.strictObject({
            id,
            name: z.string().describe('Name as the bench calls it'),
            kind: z.enum(INSTRUMENT_KINDS).describe('What it is'),
            dueOn: calendarDate.describe('When its check is due'),
            overdue: z.boolean().describe('It was due before today'),
            says: z.string().describe('The same in words'),
          }),
        )
        .describe('By due day'),
    })
    .describe('Instruments whose check is due within a week or overdue'),
  proof: z
    .strictObject({
      rule: figure.rule,
      at: instant.optional().describe('When a backup was last restored and found whole; absent where never'),
      hours: hours('Since then').optional(),
      warning: z.string().optional().describe('What is wrong, in words: older than 48 hours, never, or the last drill did not hold'),
      says: z.string().describe('The same in words'),
    })
    .describe('When the book was last proven restorable'),
  money: z
    .strictObject({
      deposits: z
        .strictObject({ ...figure, minor: minor('Deposits held on them together') })
        .describe('Deposits held on cranks in the house'),
      doneNotCollected: z
        .strictObject({ ...figure, minor: minor('Agreed and not paid on them together') })
        .describe('Signed, not gone, and not paid'),
      unpaid: z
        .strictObject({ ...figure, minor: minor('Agreed and not paid on them together') })
        .describe('Gone home more than 30 days ago and not paid'),
    })
    .describe('Money that is held, on the shelf, and out'),
  inHand: z.strictObject(figure).describe('Cranks in the house'),
})
export type OfficeToday = z.infer<typeof officeToday>
