import { z } from 'zod'

export const wayInQuery = z.strictObject({
  seen: z
    .url({ protocol: /^https?$/, error: 'The origin of the page, as https://book.example' })
    .max(300)
    .describe('Origin of the page as the browser has it, such as https://book.example'),
})

/** What can be wrong between a browser and the book. */
export const WAY_IN_FAULTS = [
  'proto-missing',
  'proto-not-believed',
  'proto-http',
  'says-https',
  'host-changed',
  'path-in-front',
  'other-address',
] as const

export const wayInFault = z.strictObject({
  code: z.enum(WAY_IN_FAULTS).describe('Short stable name of the fault'),
  says: z.string().describe('What is the matter, in a sentence'),
  mend: z.string().describe('Which setting or header puts it right'),
})
export type WayInFault = z.infer<typeof wayInFault>

export const wayIn = z.strictObject({
  faults: z.array(wayInFault).describe('What is wrong between this browser and the book; empty when nothing is'),
})
