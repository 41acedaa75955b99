import { z } from 'zod'
import { id, line, optionalLine, pageOf, pageQuery, prose, version } from './primitives.ts'

export const HEAR_BY = ['phone', 'mail', 'text', 'post'] as const
/** Longest note on a customer, in characters. */
export const NOTE_MOST = 1000
const hearBy = z.enum(HEAR_BY).describe('How they want to hear from us')

const ways = {
  phone: line(60).optional().describe('Phone, as they say it'),
  mail: z.email('An address looks like name@place.example.').max(200).optional().describe('Mail address'),
  address: prose(400).optional().describe('Postal address, may have several lines'),
}

function reachable(given: { phone?: string | undefined; mail?: string | undefined; address?: string | undefined }): boolean {
  return given.phone !== undefined || given.mail !== undefined || (given.address ?? '').trim() !== ''
}

/** Name and a way to reach them are the only compulsory fields of a booking. */
export const customerNew = z
  .strictObject({
    id: id.optional(),
    name: line().describe('Name, unsplit, as they say it'),
    ...ways,
    hearBy: hearBy.optional(),
    note: prose(NOTE_MOST).optional().describe('What we should remember about them'),
  })
  .refine(reachable, { path: ['phone'], message: 'A phone number, a mail address or a postal address: one way to reach them.' })
export type CustomerNew = z.infer<typeof customerNew>

export const customerChange = z.strictObject({
  name: line().optional().describe('Name'),
  phone: line(60).nullable().optional().describe('Phone; null takes it away'),
  mail: z.email('An address looks like name@place.example.').max(200).nullable().optional().describe('Mail address; null takes it away'),
  address: prose(400).nullable().optional().describe('Postal address; null takes it away'),
  hearBy: hearBy.optional(),
  note: prose(NOTE_MOST).nullable().optional().describe('Note; null takes it away'),
})
export type CustomerChange = z.infer<typeof customerChange>

export const customer = z.strictObject({
  id,
  name: z.string().describe('Name, unsplit'),
  phone: z.string().optional().describe('Phone as they said it'),
  mail: z.string().optional().describe('Mail address'),
  address: z.string().optional().describe('Postal address'),
  hearBy,
  note: z.string().optional().describe('What we should remember about them'),
  cranksHere: z.int().describe('Jobs we have had from them'),
  lastTag: z.string().optional().describe('Tag of their last job'),
  lastOn: z.string().optional().describe('Day their last job was booked, YYYY-MM-DD'),
  owes: z.int().describe('Quoted and agreed, not yet paid, in minor units, over all their jobs'),
  version,
})
export type Customer = z.infer<typeof customer>

/** Two entries that are one customer: the one in the address stays. */
export const customerMerge = z.strictObject({
  gone: id.describe('The entry that goes; its cranks and jobs move to the one in the address'),
  goneVersion: version.describe('The version of it that was seen; that of the one that stays goes into If-Match'),
  reason: line(400).describe('How it was found that they are one'),
})

export const customerQuery = z.strictObject({
  q: optionalLine(100).optional().describe('Part of a name, phone or mail address; diacritics and capitals do not matter'),
  ...pageQuery,
})
export const customerPage = pageOf(customer)
