import { z } from 'zod'
import { ENDS, JOB_KINDS, STEPS, WAITING_FOR, WHY_NOW } from '#core/steps.ts'
import { joint } from './crank-build.ts'
import { customer, customerNew } from './customers.ts'
import { box, payment, quote } from './money.ts'
import {
  calendarDate,
  id,
  instant,
  line,
  money,
  optionalLine,
  pageOf,
  pageQuery,
  prose,
  recorded,
  storable,
  version,
} from './primitives.ts'

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

export const wait = z.strictObject({
  what: z.enum(WAITING_FOR).describe('What it waits for'),
  note: z.string().optional().describe('What exactly'),
  since: instant,
  dueOn: calendarDate.optional().describe('When that is due'),
})
export const waitNew = z.strictObject({
  ...recorded,
  what: z.enum(WAITING_FOR).describe('What it is'),
  note: optionalLine().optional().describe('Note'),
  dueOn: calendarDate.optional(),
})
export const waitEnd = z.strictObject({
  ...recorded,
  what: z.enum(WAITING_FOR).describe('What it is'),
  lot: optionalLine(60).optional().describe('Lot number of the kit that came in'),
})

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

export const JOB_LISTS = ['house', 'late', 'waiting-kit', 'waiting-yes', 'ready', 'bench', 'gone', 'all'] as const
export const jobQuery = z.strictObject({
  list: z
    .enum(JOB_LISTS)
    .optional()
    .describe(
      'Which: house (all not gone, by promise; the default), late, waiting for kit or yes, ready to go home, bench (what the hand can do now), gone, all',
    ),
  ...pageQuery,
})
export const jobPage = pageOf(jobRow).extend({
  counts: z
    .strictObject({
      house: z.int().describe('Cranks not yet gone'),
      late: z.int().describe('Cranks that are late'),
      waitingKit: z.int().describe('Cranks waiting for a kit'),
      waitingYes: z.int().describe('Cranks waiting for a yes'),
      ready: z.int().describe('Cranks ready to go home'),
    })
    .describe('How many cranks are in each list'),
  today: calendarDate.describe('Today in the shop’s zone'),
})

export const jobEvent = z.strictObject({
  seq: z.int().describe('Order in which it was written down'),
  kind: z.string().describe('Short name of what happened'),
  says: z.string().describe('What happened, in a sentence'),
  by: z.string().optional().describe('Who'),
  occurredAt: instant,
  recordedAt: instant,
})
export const eventPage = pageOf(jobEvent)

export const photo = z.strictObject({
  id,
  step: z.string().describe('Where the job stood'),
  caption: z.string().optional().describe('What it shows'),
  width: z.int().describe('Pixels'),
  height: z.int().describe('Pixels'),
  by: z.string().describe('Who took it'),
  at: instant,
})

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

/** What the next step still needs, as the table of gates sees it now. */
export const gate = z.strictObject({
  next: jobState.nullable().describe('The step that comes next; null at the end'),
  act: z.string().describe('Act word of that step'),
  missing: z
    .array(
      z.strictObject({
        code: z.string().describe('Short stable code'),
        joint: joint.optional(),
        detail: z.string().describe('What is missing, in bench words'),
        pass: z.enum(['owner', 'never']).describe('Whether the owner may let it pass with a reason'),
      }),
    )
    .describe('What is missing, without what was let pass'),
})
export type Gate = z.infer<typeof gate>

export const stepMove = z.strictObject({
  ...recorded,
  to: step.describe('The next step on the path'),
  passes: z
    .array(
      z.strictObject({
        code: line(60).describe('Which missing thing'),
        joint: joint.optional().describe('At which joint it is missing, as the gate names it'),
        reason: line(400).describe('Why the owner lets it pass'),
        measuredBy: optionalLine().optional().describe('Who measured it, where it was measured'),
        customerToldAt: instant.optional().describe('When the customer was told'),
      }),
    )
    .max(40)
    .optional()
    .describe('What the owner lets pass (owner only)'),
})
export type StepMove = z.infer<typeof stepMove>
export const stepBack = z.strictObject({ ...recorded, to: step.describe('An earlier step of the path'), reason: line(400).describe('Why') })
export const jobEnd = z.strictObject({
  ...recorded,
  end: z.enum(ENDS).describe('Given back unbuilt, or scrapped'),
  reason: line(400).describe('Why'),
})
export const told = z.strictObject({ ...recorded, says: line(600).describe('What they were told'), how: z.enum(YES_HOW).describe('How') })
export const jobNote = z.strictObject({ ...recorded, says: prose(1000).min(1).describe('What to write into the history') })
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

export const found = z.strictObject({
  rows: z
    .array(
      z.strictObject({
        what: z.enum(['job', 'customer', 'engine']).describe('What it is'),
        id,
        title: z.string().describe('Tag, name or model'),
        says: z.string().describe('What else tells it apart'),
      }),
    )
    .describe('What was found, best first'),
})
export const findQuery = z.strictObject({ q: line(100).describe('Tag, name, phone, engine number, model') })

export const crankHit = z.strictObject({
  id,
  engineId: id,
  engine: z.string().describe('Maker and code of the engine'),
  engineNumber: z.string().optional().describe('Engine or crank number'),
  customerId: id,
  whose: z.string().describe('Whose it is'),
  jobs: z
    .array(
      z.strictObject({
        id,
        tag: z.string().describe('Tag of the job, such as 318-V'),
        bookedAt: instant,
        state: jobState,
        kit: z.string().optional().describe('Kit fitted then'),
        certificate: z.string().optional().describe('Number of the sheet made then'),
      }),
    )
    .describe('Its earlier jobs, newest first'),
  welded: z.boolean().describe('The pin is welded'),
})
export const crankQuery = z.strictObject({ number: optionalLine(60).optional().describe('Number of the sheet'), customerId: id.optional() })

export const draftParams = z.strictObject({ form: z.enum(['booking', 'engine']).describe('Which form') })
export const draft = z.strictObject({
  data: z.record(z.string(), z.unknown()).describe('The form as it stands, not checked'),
  changedAt: instant,
})
const DRAFT_DEPTH = 20

/** Whether a form half filled can be kept: no character that the database refuses, and not nested without end. */
function keepable(data: Record<string, unknown>): boolean {
  const open: { value: unknown; depth: number }[] = [{ value: data, depth: 0 }]
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const { value, depth } = at
    if (depth > DRAFT_DEPTH) return false
    if (typeof value === 'string' && !storable(value)) return false
    if (typeof value !== 'object' || value === null) continue
    for (const [name, inner] of Object.entries(value)) {
      if (!storable(name)) return false
      open.push({ value: inner, depth: depth + 1 })
    }
  }
  return true
}

export const draftAnswer = z.strictObject({ draft: draft.nullable().describe('The draft; null where there is none') })
export const draftSave = z.strictObject({
  data: z
    .record(z.string(), z.unknown())
    .refine(keepable, 'This draft cannot be kept: it holds a character that cannot be stored, or is nested too deep.')
    .describe('The form as it stands, not checked'),
})

export const publicLink = z.strictObject({
  url: z.string().describe('Secret address of the customer’s page; shown once, kept only as a hash'),
})
