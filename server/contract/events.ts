import { z } from 'zod'
import { YES_HOW } from './jobs.ts'
import { instant, line, pageOf, prose, recorded } from './primitives.ts'

export const jobEvent = z.strictObject({
  seq: z.int().describe('Order in which it was written down'),
  kind: z.string().describe('Short name of what happened'),
  says: z.string().describe('What happened, in a sentence'),
  by: z.string().optional().describe('Who'),
  occurredAt: instant,
  recordedAt: instant,
})
export const eventPage = pageOf(jobEvent)

export const told = z.strictObject({ ...recorded, says: line(600).describe('What they were told'), how: z.enum(YES_HOW).describe('How') })
export const jobNote = z.strictObject({ ...recorded, says: prose(1000).min(1).describe('What to write into the history') })
