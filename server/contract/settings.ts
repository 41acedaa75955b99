import { z } from 'zod'
import { type FilledText, PLACEHOLDERS_OF, unknownPlaceholder } from '#core/placeholders.ts'
import { GUARD_RULES } from '#core/runout-verdict.ts'
import { line, money, prose, version } from './primitives.ts'

const ZONES = new Set([...Intl.supportedValuesOf('timeZone'), 'UTC'])
const zone = z
  .string()
  .max(60)
  .refine((name) => ZONES.has(name), 'A zone looks like Europe/Berlin.')
const clockTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'A time looks like 18:00.')
const runoutMm = z.number().gt(0).max(1)

/** The settings of the shop. Every figure that decides something is one of these or stands on an engine sheet. */
export const settings = z.strictObject({
  shopName: line().describe('Name of the shop, on receipts and certificates'),
  shopAddress: prose(400).describe('Address, on receipts and certificates'),
  zone: zone.describe('Time zone of the shop (IANA name); “today” and every date are of this zone'),
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/, 'Three capital letters, ISO 4217.')
    .describe('Currency (ISO 4217)'),
  taxPermille: z.int().min(0).max(1000).describe('Tax contained in a quote, in thousandths'),
  lookingOverFee: money.describe('Fee for looking a crank over, in minor units'),
  paper: z.enum(['A4', 'Letter']).describe('Paper size'),
  showUnit: z.enum(['mm', 'thou']).describe('Unit that screens show first'),
  idleMinutes: z.int().min(5).max(1440).describe('A session ends after so many minutes without a request'),
  sessionHours: z.int().min(1).max(24).describe('A session ends after so many hours in any case'),
  closingTime: clockTime.describe('A bench clock still running then stops there'),
  scrapFloorFactor: z.number().min(0.001).max(0.01).describe('Scrap floor of the fit as a share of the pin diameter'),
  houseLimitMm: runoutMm.describe('House limit of runout where an engine sheet gives none, mm'),
  guardRule: z
    .enum(GUARD_RULES)
    .describe(
      'By which rule a figure is within its limit. full-guard: it and its give or take together do not pass it; simple: the figure alone does not',
    ),
  samePersonMayCheck: z.boolean().describe('One-person shop: the builder may take the second reading; the certificate says so'),
  targetHours: z.number().gt(0).max(100).describe('Bench hours a crank that the shop aims at'),
  benchHoursWeek: z.number().gt(0).max(1000).describe('Hands-on bench hours that the shop has in a week, all hands together'),
  promiseMonths: z.int().min(1).max(120).describe('Months from going home in which the promise on the work holds'),
  promiseHours: z.number().gt(0).max(10_000).nullable().describe('Engine hours after which the promise ends before that; null for none'),
  promiseText: prose(600).describe('The promise printed on certificates; {shop}, {promise}'),
  storageDays: z.int().min(1).max(3650).describe('Days after the message that it is ready from which storage may be charged'),
  storageRule: prose(600).describe('House rule on cranks not fetched, printed on receipts; {shop}, {days}'),
  notDone: prose(400).describe('What is never done unless said, printed on certificates'),
  fittingTwoStroke: prose(800).describe('Fitting and first hours for two-strokes'),
  fittingFourStroke: prose(800).describe('Fitting and first hours for four-strokes'),
  tellReady: prose(400).describe('What the customer is told when it is ready to go home; {shop}, {tag}, {amount}, {days}'),
  tellYes: prose(400).describe('What they are told while a quote waits for their yes; {shop}, {tag}, {where}, {amount}, {date}'),
  tellLate: prose(400).describe('What they are told when it is late; {shop}, {tag}, {where}, {wait}, {date}'),
})
export type Settings = z.infer<typeof settings>

/** Settings as they are sent: a placeholder that a text does not know would be printed as it stands, so it is refused here. */
export const settingsWanted = settings.superRefine((given, faults) => {
  for (const [name, known] of Object.entries(PLACEHOLDERS_OF)) {
    const unknown = unknownPlaceholder(given[name as FilledText], known)
    if (unknown === null) continue
    const list = known.map((one) => `{${one}}`).join(', ')
    faults.addIssue({ code: 'custom', path: [name], message: `${unknown} is not known here. Known are ${list}.` })
  }
})

export const settingsAnswer = settings.extend({ version })
export type SettingsAnswer = z.infer<typeof settingsAnswer>

export const FIRST_SETTINGS: Settings = {
  shopName: 'The shop',
  shopAddress: '',
  zone: 'UTC',
  currency: 'EUR',
  taxPermille: 200,
  lookingOverFee: 3000,
  paper: 'A4',
  showUnit: 'mm',
  idleMinutes: 240,
  sessionHours: 12,
  closingTime: '18:00',
  scrapFloorFactor: 0.0022,
  houseLimitMm: 0.02,
  guardRule: 'full-guard',
  samePersonMayCheck: false,
  targetHours: 1.8,
  benchHoursWeek: 32,
  promiseMonths: 12,
  promiseHours: null,
  promiseText: 'Our promise on the work we did: {promise}; racing excepted. Ring first, then send the whole crank unwashed.',
  storageDays: 90,
  storageRule:
    'A crank not fetched within {days} days of the message that it is ready may be charged for storage, after a reminder in writing, as far as local law allows.',
  notDone: 'balancing, small end, stuffers not opened',
  fittingTwoStroke:
    'Warm the bearing and the case and pull the crank in by the inner ring; never drive on the end and never pry between the webs. See that it turns freely by hand. First tank on fresh premix at the richer side of the maker’s ratio; warm it up three times and let it cool, then half an hour at mixed throttle, never long at full throttle. Your engine maker’s book comes first.',
  fittingFourStroke:
    'Warm the bearing and the case and pull the crank in by the inner ring; never drive on the end and never pry between the webs. Prime the oil and turn it over without the plug until oil shows. Change oil and filter after the first hour and look at them. Your engine maker’s book comes first.',
  tellReady: 'Your crank {tag} is ready to go home[, {amount} to pay].',
  tellYes: 'Your crank {tag} {where}, we wait for your yes to {amount}.[ We promised {date}.]',
  tellLate: 'Your crank {tag} {where}[, {wait}]. It is late, for which we are sorry; we said {date}.',
}
