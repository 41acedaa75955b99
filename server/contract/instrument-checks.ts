import { z } from 'zod'
import { CERTIFICATE_VERDICTS } from '#core/certificate.ts'
import { CHECK_KINDS, instrument } from './instruments.ts'
import { csvSeparator } from './office-cranks.ts'
import { calendarDate, id, instant, line, pageQuery, recorded } from './primitives.ts'

/** A check on gauge blocks or a setting rod, the zero at the start of the day, or a fall. */
export const instrumentCheckNew = z.strictObject({
  ...recorded,
  kind: z.enum(CHECK_KINDS).describe('check: on gauge blocks or a setting rod; zero: its zero of the day; dropped: it fell'),
  held: z.boolean().optional().describe('Whether it read right; not said of a fall'),
  offMm: z.number().min(-10).max(10).optional().describe('What it read more than it should have, mm'),
  note: line().optional().describe('How it was checked, or how it fell'),
  dueOn: calendarDate.optional().describe('Day its next check is due; only with a check that held'),
})
export type InstrumentCheckNew = z.infer<typeof instrumentCheckNew>

export const instrumentCheck = z.strictObject({
  id,
  kind: z.enum(CHECK_KINDS).describe('check, zero or dropped'),
  held: z.boolean().optional().describe('Whether it read right; absent of a fall'),
  offMm: z.number().optional().describe('What it read more than it should have, mm'),
  note: z.string().optional().describe('How it was checked, or how it fell'),
  by: z.string().optional().describe('Name of whoever did it; absent where the register kept none'),
  occurredAt: instant.describe('When it was, RFC 3339'),
})
export type InstrumentCheck = z.infer<typeof instrumentCheck>

export const instrumentPage = z.strictObject({
  instrument: instrument.describe('Its entry in the register'),
  checks: z.array(instrumentCheck).describe('Its checks, zeros and falls, newest first, 200 at most'),
})
export type InstrumentPage = z.infer<typeof instrumentPage>

const ofFault = {
  fault: id.optional().describe('A check or zero that did not hold, or a fall; unless said, what puts it in doubt now'),
}
export const madeWithQuery = z.strictObject({ ...ofFault, ...pageQuery })
export const madeWithCsvQuery = z.strictObject({ ...ofFault, separator: csvSeparator })

export const certificateMadeWith = z.strictObject({
  id: id.describe('Id of the certificate'),
  number: z.string().describe('Number as printed'),
  jobId: id.describe('Id of its job'),
  tag: z.string().describe('Tag of the crank'),
  issuedOn: calendarDate.describe('Day on which it was made, YYYY-MM-DD'),
  verdict: z.enum(CERTIFICATE_VERDICTS).describe('The worse verdict of the two ends'),
  marginMm: z.number().optional().describe('Our limit of runout less the reading and its give-or-take, mm, at the end that has less room'),
  stands: z.boolean().describe('Neither void nor replaced'),
})
export type CertificateMadeWith = z.infer<typeof certificateMadeWith>

export const madeWith = z.strictObject({
  since: instant.nullable().describe('Its last good check before; null: none is written down, so the list begins with the book'),
  until: instant.nullable().describe('The good check after, which ends the list; null: there is none yet'),
  n: z.int().describe('How many certificates there are in all'),
  rows: z.array(certificateMadeWith).describe('The certificates of this page, newest first'),
  next: z.string().nullable().describe('Cursor for the rows after these; null at the end'),
})
export type MadeWith = z.infer<typeof madeWith>
