import { z } from 'zod'
import { HOLLOW_REASONS } from '#core/learning-line.ts'
import { id, instant } from './primitives.ts'
import { learningOut } from './sum-learning.ts'

const share = z.strictObject({ of: z.int().describe('Out of so many'), count: z.int().describe('So many') })

/** The learning line of one person; seen by that person and the owner only. */
export const personLearning = z.strictObject({
  person: z.strictObject({ id, name: z.string().describe('Name') }).describe('Whose line it is'),
  points: z
    .array(
      z.strictObject({
        jobId: id,
        tag: z.string().describe('Tag of the job, such as 318-V'),
        engine: z.string().describe('Maker and code of the engine'),
        signedAt: instant,
        n: z.number().optional().describe('Own count of this crank; absent where it does not count'),
        drawAt: z.number().describe('Where it stands on the line'),
        hours: z.number().describe('Bench hours from booked to trued'),
        hollow: z.enum(HOLLOW_REASONS).optional().describe('Drawn hollow and not fitted, and why'),
        moves: z.int().describe('Moves it took to true it'),
      }),
    )
    .describe('One point a crank, in order of signing'),
  line: learningOut.optional().describe('The fitted line; absent where there are too few cranks'),
  mayFitRate: z.boolean().describe('A rate and a crossing may be printed'),
  noRateBecause: z.string().optional().describe('Why not'),
  level: z
    .strictObject({
      hours: z.number().describe('Bench hours, h'),
      low: z.number().describe('Lower end of the 95 % interval, h'),
      high: z.number().describe('Upper end of the 95 % interval, h'),
      of: z.int().describe('From so many cranks'),
    })
    .optional()
    .describe('Geometric mean of the hours with its 95 % interval, where no rate may be printed'),
  caption: z.string().describe('The counting rule in words'),
  targetHours: z.number().describe('Hours the shop aims at'),
  ready: z
    .strictObject({
      firstCheck: share.describe('Inside the house limit at first check'),
      firstCheckLastTen: share.describe('The same of the last ten'),
      secondDiffered: share.describe('The second reader differed by more than the doubt'),
      movesFirstTen: z.number().optional().describe('Moves a crank, geometric mean of the first ten'),
      movesLastTen: z.number().optional().describe('The same of the last ten'),
      truingShareFirstTen: z.number().optional().describe('Share of the hours spent truing, first ten'),
      truingShareLastTen: z.number().optional().describe('The same of the last ten'),
    })
    .describe('What tells whether the person is ready to sign'),
})
export type PersonLearning = z.infer<typeof personLearning>
