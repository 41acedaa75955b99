import { z } from 'zod'
import { jobRow } from './jobs.ts'
import { calendarDate, pageOf, pageQuery } from './primitives.ts'

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
