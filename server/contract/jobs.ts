import { z } from 'zod'
import { ENDS, JOB_KINDS, STEPS, WHY_NOW } from '#core/steps.ts'
import { joint } from './crank-build.ts'
import { customer, customerNew } from './customers.ts'
import { box, payment, quote } from './money.ts'
import { calendarDate, id, instant, line, money, optionalLine, prose, recorded, version } from './primitives.ts'
import { wait } from './waits.ts'

/** What may come with a crank; the words of the counter. A further thing is written as it is called. */
export const CAME_WITH = [
  'mains on',
  'keys',
  'nut',
  'primary gear',
  'cam gear',
  'oil pump gear',
  'balancer gear',
  'spacers',
  'stuffers',
  'flywheel',
  'piston pin',
  'kit box',
  'case half',
] as const
export const CONDITIONS = [
  'box holed',
  'end bent',
  'thread chipped',
  'taper dented',
  'rim knocked',
  'big end blue',
  'rust in the track',
  'end mushroomed',
  'washers scored',
] as const
export const HOURS_HOW = ['metered', 'declared', 'unknown'] as const
export const YES_HOW = ['at the counter', 'by phone', 'by mail', 'by text', 'by post'] as const

export const jobKind = z.enum(JOB_KINDS).describe('What they want')
export const step = z.enum(STEPS).describe('A step: what is done')
export const jobState = z.enum([...STEPS, ...ENDS]).describe('Where the job stands: the last step done, or its end')
export const whyNow = z.enum(WHY_NOW).describe('Why the crank comes in now')
const hoursHow = z.enum(HOURS_HOW).describe('How the hours are known')
const by = z.enum(['counter', 'carrier']).describe('Over the counter or by carrier')

export const cameWith = z
  .array(z.strictObject({ what: line(60).describe('What came with it'), count: z.int().min(1).max(99).optional().describe('How many') }))
  .max(40)

const bookingFields = {
  kind: jobKind,
  whyNow,
  cameBy: by.describe('Over the counter or by carrier'),
  goesBy: by.describe('Fetched at the counter or sent by carrier'),
  hours: z.number().min(0).max(100_000).optional().describe('Engine hours on this crank'),
  hoursHow,
  usedFor: optionalLine().optional().describe('Use: enduro, trials, road, kart and so on'),
  oil: optionalLine().optional().describe('Fuel and oil, or oil and how often changed'),
  whoFits: optionalLine().optional().describe('Who fits the crank into the engine'),
  earlierRebuild: optionalLine(400).optional().describe('Rebuilt before: by whom, which kit, welded'),
  wantedOn: calendarDate.optional().describe('When they want it'),
  promisedOn: calendarDate.optional().describe('When we promise it'),
  place: optionalLine(60).optional().describe('Where it lies: rack, shelf, bench'),
  kitFrom: z.enum(['ours', 'theirs', 'none']).describe('Whose rod kit'),
  cameWith: cameWith.describe('What came with the crank'),
  condition: z.array(line(60)).max(40).describe('Damage and wear seen when it came in'),
  conditionNote: prose(1000).optional().describe('Damage in words'),
  oldPartsBack: z.boolean().describe('They want the old parts back'),
  feeYesBy: optionalLine().optional().describe('Who said yes to the looking-over fee'),
  feeYesHow: z.enum(YES_HOW).optional().describe('How that yes came'),
}

/** Booking one in. Only the name and a way to reach them, and what they want, are compulsory; the rest can follow. */
export const booking = z.strictObject({
  ...recorded,
  customer: z.union([z.strictObject({ id }), customerNew]).describe('A known customer by id, or a new one'),
  crank: z
    .union([
      z.strictObject({ id }).describe('A crank that has been here before'),
      z.strictObject({
        engineId: id.describe('Its model sheet'),
        engineNumber: optionalLine(60).optional().describe('Engine or crank number'),
        marks: optionalLine().optional().describe('Marks found on it'),
        welded: z.boolean().optional().describe('The pin is welded'),
        pressedBefore: z
          .int()
          .min(0)
          .max(50)
          .optional()
          .describe('How often its webs were pressed before it came here; 1 by the maker unless said'),
      }),
    ])
    .describe('The physical crank'),
  ...bookingFields,
  depositMinor: money.optional().describe('Deposit taken now, in minor units'),
  depositHow: line(40).optional().describe('How the deposit was paid'),
  comebackOf: id.optional().describe('The earlier job of which this is a comeback'),
  comebackWhy: optionalLine(400).optional().describe('What they say came back'),
})
export type Booking = z.infer<typeof booking>

export const jobChange = z.strictObject({
  whyNow: whyNow.optional(),
  goesBy: by.optional(),
  hours: z.number().min(0).max(100_000).nullable().optional().describe('Bench hours, h'),
  hoursHow: hoursHow.optional(),
  usedFor: optionalLine().nullable().optional().describe('Use: enduro, trials, road, kart and so on'),
  oil: optionalLine().nullable().optional().describe('Fuel and oil, or oil and how often changed'),
  whoFits: optionalLine().nullable().optional().describe('Who fits the crank into the engine'),
  earlierRebuild: optionalLine(400).nullable().optional().describe('Rebuilt before: by whom, which kit, welded'),
  wantedOn: calendarDate.nullable().optional(),
  promisedOn: calendarDate.nullable().optional(),
  kitFrom: z.enum(['ours', 'theirs', 'none']).optional().describe('Whose rod kit'),
  cameWith: cameWith.optional().describe('What came with the crank'),
  condition: z.array(line(60)).max(40).optional().describe('Damage and wear seen when it came in'),
  conditionNote: prose(1000).nullable().optional().describe('Damage in words'),
  oldPartsBack: z.boolean().optional().describe('They want the old parts back'),
  feeYesBy: optionalLine().nullable().optional().describe('Who said yes to the looking-over fee'),
  feeYesHow: z.enum(YES_HOW).nullable().optional().describe('How that yes came'),
  also: prose(400).nullable().optional().describe('What else was done, for the certificate'),
  notDone: prose(400).nullable().optional().describe('What was not done, for the certificate'),
})
export type JobChange = z.infer<typeof jobChange>

export const jobRow = z.strictObject({
  id,
  tag: z.string().describe('Tag wired to the crank, such as 318-V'),
  kind: jobKind,
  state: jobState,
  whose: z.string().optional().describe('Name of the customer (counter and owner only)'),
  engine: z.string().describe('Maker and code'),
  waiting: z.array(wait).describe('What it waits for; empty when nothing'),
  wantedOn: calendarDate.optional(),
  promisedOn: calendarDate.optional(),
  late: z.boolean().describe('Promise before today and not yet signed'),
  daysLate: z.int().optional().describe('Days past the promise'),
  toldLate: z.boolean().describe('The customer has been told since it became late'),
  place: z.string().optional().describe('Where it lies'),
  holder: z.string().optional().describe('Who has it'),
  owes: z
    .int()
    .optional()
    .describe('Agreed and not paid, minor units; 0 is paid, absent where nothing was agreed yet (counter and owner only)'),
  deposit: z.int().optional().describe('Deposit held, minor units (counter and owner only)'),
  asked: z.int().optional().describe('Total of the quote asked and not yet answered, minor units (counter and owner only)'),
  askedOn: instant.optional().describe('When the quote was made'),
  readySince: instant.optional().describe('Since when it is ready to go home'),
  bookedAt: instant,
  comeback: z.boolean().describe('Booked in as a comeback'),
})
export type JobRow = z.infer<typeof jobRow>

export const stepReached = z.strictObject({ step: jobState, at: instant, by: z.string().describe('Who said so') })
export const pass = z.strictObject({
  step: jobState,
  what: z.string().describe('What was let pass'),
  code: z.string().describe('Short code of it'),
  joint: joint.optional(),
  measuredBy: z.string().optional().describe('Who measured it'),
  reason: z.string().describe('Why'),
  by: z.string().describe('The owner who let it pass'),
  at: instant,
  customerToldAt: instant.optional(),
})

export const job = z.strictObject({
  ...jobRow.omit({ whose: true, asked: true, askedOn: true }).shape,
  customer: customer.optional().describe('Whose it is (counter and owner only)'),
  crank: z
    .strictObject({
      id,
      engineId: id,
      engineNumber: z.string().optional().describe('Engine or crank number'),
      marks: z.string().optional().describe('Marks found on it'),
      welded: z.boolean().describe('The pin is welded'),
      pressedBefore: z.int().describe('Pressings before it first came here'),
      pressedHere: z
        .strictObject({ left: z.int().describe('Left'), right: z.int().describe('Right') })
        .describe('Pressings together here, over all its jobs, by web; with several throws of the one pressed most often'),
      earlier: z
        .array(z.strictObject({ id, tag: z.string().describe('Tag of the job, such as 318-V'), bookedAt: instant, state: jobState }))
        .describe('Earlier jobs of the same crank'),
    })
    .describe('The physical crank'),
  ...z.strictObject(bookingFields).omit({ wantedOn: true, promisedOn: true, place: true, kind: true }).shape,
  steps: z.array(stepReached).describe('Steps reached, in order; undone ones are left out'),
  passes: z.array(pass).describe('What the owner let pass'),
  quotes: z.array(quote).optional().describe('Quotes, newest first (counter and owner only)'),
  payments: z.array(payment).optional().describe('Money in and out (counter and owner only)'),
  box: box.optional().describe('What went back into the box'),
  lastTold: z
    .strictObject({ says: z.string().describe('What was said'), at: instant, how: z.string().describe('How') })
    .optional()
    .describe('What the customer was told last'),
  oilHole: z.enum(['open', 'masked', 'none']).optional().describe('Oil hole of the pin'),
  also: z.string().optional().describe('What else was done, for the certificate'),
  notDone: z.string().optional().describe('What was not done, for the certificate'),
  comebackOf: z
    .strictObject({ id, tag: z.string().describe('Tag of the job, such as 318-V') })
    .optional()
    .describe('The earlier job of which this is a comeback'),
  comebackWhy: z.string().optional().describe('What they say came back'),
  version,
})
export type Job = z.infer<typeof job>

export const placeNew = z.strictObject({
  ...recorded,
  place: optionalLine(60).nullable().optional().describe('Where it lies now; null for nowhere said'),
  holderId: id.nullable().optional().describe('Who has it now; null for nobody'),
})

/** Whose job it really is. The secret address made for the wrong one opens no more. */
export const jobCustomer = z.strictObject({
  ...recorded,
  customerId: id.describe('The right customer'),
  withCrank: z.boolean().describe('The crank is theirs too; else only this job moves'),
  reason: line(400).describe('How it came to the wrong one'),
})

export const publicLink = z.strictObject({
  url: z.string().describe('Secret address of the customer’s page; shown once, kept only as a hash'),
})
