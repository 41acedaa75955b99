import { z } from 'zod'
import { ENDS } from '#core/steps.ts'
import { joint } from './crank-build.ts'
import { jobState, step } from './jobs.ts'
import { instant, line, optionalLine, recorded } from './primitives.ts'

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
