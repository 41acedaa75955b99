import { z } from 'zod'
import { jobState } from './jobs.ts'
import { id, instant, optionalLine } from './primitives.ts'

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
