/**
 * The office: what stands in the shop today, and the figures of the shop, each with the rule by which it is counted, how
 * many it is counted from, and where its cranks and its table are. Owner only.
 */
import { z } from 'zod'
import { COMEBACK_CAUSES } from '#core/comeback.ts'
import { HOUR_BASES } from '#core/office-hours.ts'
import { COMEBACK_KEYS, CRANK_FIGURES } from '#core/office-rules.ts'
import { WAITING_FOR } from '#core/steps.ts'
import { INSTRUMENT_KINDS } from './instruments.ts'
import { jobKind, jobState } from './jobs.ts'
import { calendarDate, id, instant, pageOf, pageQuery } from './primitives.ts'

const count = (what: string) => z.int().min(0).describe(what)
const hours = (what: string) => z.number().min(0).describe(`${what}, h`)
const days = (what: string) => z.number().min(0).describe(`${what}, days`)
const minor = (what: string) => z.int().describe(`${what}, minor units of the shop’s currency`)
const tag = z.string().describe('Tag of the job, such as 318-V')

/** What every figure of the office carries. */
const figure = {
  rule: z.string().describe('How it is counted, in a sentence'),
  n: count('So many it is counted from'),
  cranks: z
    .string()
    .nullable()
    .describe('Query of GET /api/office/cranks that lists the cranks behind it, such as figure=late; null where there are none to list'),
  csv: z.string().describe('Address of the same as CSV, with the same filters'),
}

const wilson = z
  .strictObject({
    low: z.number().min(0).max(1).describe('Lower end, a share of 1'),
    high: z.number().min(0).max(1).describe('Upper end, a share of 1'),
  })
  .describe('95 % interval by Wilson, as shares of 1')

/** A share with its counts; without an interval where nothing was counted. */
const share = {
  n: count('Out of so many'),
  count: count('So many'),
  share: z.number().min(0).max(1).optional().describe('count / n, a share of 1; absent where n is 0'),
  wilson: wilson.optional().describe('95 % interval of the share by Wilson; absent where n is 0'),
}

// ---- today --------------------------------------------------------------------------------------------------------------

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

// ---- in, out, days in the house -------------------------------------------------------------------------------------------

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

// ---- windows of whole weeks or months -------------------------------------------------------------------------------------

const windowQuery = {
  from: calendarDate
    .optional()
    .describe('First day; moved back to its Monday or first of the month, whichever is nearer. 12 months ago unless said'),
  to: calendarDate.optional().describe('Last day; moved on to its Sunday or last of the month, whichever is nearer. Today unless said'),
}
const window = {
  from: calendarDate.describe('First day counted'),
  to: calendarDate.describe('Last day counted'),
}

// ---- true at first check ---------------------------------------------------------------------------------------------------

export const firstCheckQuery = z.strictObject({
  ...windowQuery,
  engine: id.optional().describe('Only cranks of this engine'),
  person: id.optional().describe('Only cranks that this person called true'),
})
export const officeFirstCheck = z.strictObject({
  ...figure,
  ...window,
  engine: id.optional().describe('Only cranks of this engine'),
  person: id.optional().describe('Only cranks that this person called true'),
  all: z.strictObject(share).describe('Inside the house limit at both ends at the first check'),
  byPerson: z
    .array(
      z.strictObject({
        id: id.nullable().describe('Person; null where nobody called it true'),
        name: z.string().describe('Name'),
        ...share,
        cranks: figure.cranks,
      }),
    )
    .describe('By who called it true, the most first'),
  byEngine: z
    .array(z.strictObject({ id, name: z.string().describe('Maker and code'), ...share, cranks: figure.cranks }))
    .describe('By engine, the most first'),
  byMonth: z
    .array(z.strictObject({ month: z.string().describe('Month, such as 2026-11'), ...share, cranks: figure.cranks }))
    .describe('Month by month, the oldest first, months without any included; at the edges only the days counted'),
})
export type OfficeFirstCheck = z.infer<typeof officeFirstCheck>

// ---- what came back ----------------------------------------------------------------------------------------------------------

export const comebackQuery = z.strictObject({
  ...windowQuery,
  by: z.enum(COMEBACK_KEYS).optional().describe('Rows by cause, kit lot, engine or person; by cause unless said'),
})
const cameBack = {
  n: count('Cranks that went home'),
  back: count('Of these, came back'),
  perHundred: z.number().min(0).max(100).optional().describe('100 × back / n; absent where n is 0'),
  wilson: wilson.optional().describe('95 % interval of back / n by Wilson, as shares of 1; absent where n is 0'),
  young: count('Of the n, went home less than 12 months ago: their time is not over'),
  cranks: z.string().nullable().describe('Query of GET /api/office/cranks for the n'),
  cranksBack: z.string().nullable().describe('Query of GET /api/office/cranks for those that came back'),
}
export const officeComebacks = z.strictObject({
  ...figure,
  ...window,
  by: z.enum(COMEBACK_KEYS).describe('What the rows are by'),
  all: z.strictObject(cameBack).describe('All cranks that went home in the window'),
  rows: z
    .array(
      z.strictObject({
        key: z.string().nullable().describe('Id of the engine, person or lot, name of the cause; null: not known, or no kit named'),
        name: z.string().describe('In words'),
        ...cameBack,
        lot: z
          .strictObject({
            others: z
              .strictObject({ n: cameBack.n, back: cameBack.back, perHundred: cameBack.perHundred, wilson: cameBack.wilson })
              .describe('All other kits'),
            p: z.number().min(0).max(1).describe('Chance of a difference so great between lots that are alike (Fisher, two-sided)'),
            pHolm: z
              .number()
              .min(0)
              .max(1)
              .describe(
                'The same, raised for as many lots as could show anything with their few cranks (Holm, Tarone); 1 for a lot that could not',
              ),
            notChance: z.boolean().describe('It comes back more often than other kits, and pHolm is under 0.05'),
            stillOut: count('Its cranks that are out running with it now, whenever they went home'),
            cranksStillOut: z.string().describe('Query of GET /api/office/cranks for those'),
            says: z.string().optional().describe('In words, where it is not chance'),
          })
          .optional()
          .describe('This lot against all other kits (by=lot only, not on the row without a kit)'),
      }),
    )
    .describe('Most back first, at most 60; the CSV has all'),
  left: count('Rows left out here'),
  lotRule: z.string().optional().describe('When a lot is called not chance (by=lot only)'),
  lotsLookedAt: count('Lots compared').optional(),
})
export type OfficeComebacks = z.infer<typeof officeComebacks>
export const comebackCause = z.enum(COMEBACK_CAUSES).describe('Cause as decided after looking')

// ---- still running, by hours ridden ------------------------------------------------------------------------------------------

export const runningQuery = z.strictObject({
  lot: id.optional().describe('This lot against all other kits; one line for all kits unless said'),
})
export const officeRunning = z.strictObject({
  ...figure,
  lot: z
    .strictObject({ id, name: z.string().describe('Maker, part and lot') })
    .optional()
    .describe('The lot asked for'),
  curves: z
    .array(
      z.strictObject({
        group: z.enum(['all', 'lot', 'others']).describe('All kits, this lot, or all other kits'),
        name: z.string().describe('In words'),
        n: count('Cranks on the curve, without those that came back at hours nobody knows'),
        back: count('Of these, came back at hours that are known'),
        noHours: count('Came back at hours that nobody knows, left out'),
        neverHeardOf: count('Not back and never heard of: they count as running at 0 h'),
        steps: z
          .array(
            z.strictObject({
              hours: hours('Hours ridden'),
              atRisk: count('Heard of at these hours or later'),
              back: count('Came back at these hours'),
              running: z.number().min(0).max(1).describe('Share still running from here on'),
              low: z
                .number()
                .min(0)
                .max(1)
                .optional()
                .describe('Lower end of its 95 % interval; both ends absent where nothing runs any more'),
              high: z.number().min(0).max(1).optional().describe('Upper end of its 95 % interval'),
            }),
          )
          .describe('One step for each hour at which some came back (Kaplan–Meier); the share is 1 before the first'),
        heard: z
          .array(z.strictObject({ hours: hours('Hours ridden'), count: count('So many') }))
          .describe('When the others were last heard of'),
        medianHours: hours('Half still run at').optional(),
        cranks: z.string().describe('Query of GET /api/office/cranks for these'),
      }),
    )
    .describe('The lot first, then all other kits; or one curve for all kits'),
  logRank: z
    .strictObject({
      chiSquare: z.number().min(0).describe('Log-rank chi-square, one degree of freedom'),
      p: z.number().min(0).max(1).describe('Chance of a difference so great between lots that are alike'),
    })
    .optional()
    .describe('Whether the two curves differ; absent without a lot or where none came back'),
})
export type OfficeRunning = z.infer<typeof officeRunning>

// ---- what earns ----------------------------------------------------------------------------------------------------------------

export const earningQuery = z.strictObject({ ...windowQuery })
const earns = {
  n: count('Rebuilt cranks with bench hours and an agreed price'),
  meanHours: hours('Mean bench hours a crank').optional(),
  meanPriceMinor: z.number().min(0).optional().describe('Mean agreed price a crank without tax, minor units'),
  perHourMinor: z.number().min(0).optional().describe('Agreed price without tax for each bench hour, minor units'),
  cranks: figure.cranks,
}
export const officeEarning = z.strictObject({
  ...figure,
  ...window,
  all: z.strictObject(earns).describe('All engines'),
  rows: z
    .array(
      z.strictObject({
        id,
        name: z.string().describe('Maker and code'),
        ...earns,
        againstShop: z.number().describe('perHourMinor of this engine / that of all, 1 is the same'),
      }),
    )
    .describe('By engine, the least for an hour first'),
})
export type OfficeEarning = z.infer<typeof officeEarning>

// ---- the cranks behind a figure --------------------------------------------------------------------------------------------------

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
