import { z } from 'zod'
import { id, instant, line, recorded, version } from './primitives.ts'

export const WORK = ['measuring', 'parting', 'pressing', 'truing', 'welding', 'checking'] as const
export const work = z.enum(WORK).describe('What the hand is at')

export const clockStart = z.strictObject({ ...recorded, jobId: id, work })
export const clockStop = z.strictObject({ ...recorded })
export const clockEntry = z.strictObject({
  id,
  personId: id,
  person: z.string().describe('Who'),
  jobId: id,
  tag: z.string().describe('Tag of the job, such as 318-V'),
  work,
  startedAt: instant,
  stoppedAt: instant.optional(),
  stoppedHow: z.enum(['hand', 'next-clock', 'closing-time']).optional().describe('closing-time: nobody stopped it, ask them'),
  corrected: z
    .strictObject({
      by: z.string().describe('Who'),
      at: instant,
      why: z.string().describe('Why'),
      wasStartedAt: instant,
      wasStoppedAt: instant.optional(),
    })
    .optional()
    .describe('Put right: by whom, why, and what the clock itself said'),
  hours: z.number().optional().describe('Hours between start and stop'),
  version,
})
export type ClockEntry = z.infer<typeof clockEntry>
export const clockState = z.strictObject({
  running: clockEntry.nullable().describe('The one clock of this person that runs'),
  unanswered: z.array(clockEntry).describe('Clocks stopped by closing time that nobody has put right yet'),
})
export const clockCorrection = z.strictObject({ startedAt: instant, stoppedAt: instant, why: line(400).describe('Why it is put right') })
export const jobHours = z.strictObject({
  entries: z.array(clockEntry).describe('Clocks of this job, by start'),
  totalHours: z.number().describe('All bench-clock time on the job, after corrections, h'),
  byWork: z.array(z.strictObject({ work, hours: z.number().describe('Bench hours, h') })).describe('Hours by what the hand was at'),
})
