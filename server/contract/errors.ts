import { z } from 'zod'
import { REFUSAL_REASONS } from '#core/answer.ts'
import { joint } from './crank-build.ts'

const fieldError = z.strictObject({
  pointer: z.string().describe('JSON Pointer (RFC 6901) to the field in the body, or #/query/… for the address'),
  code: z.string().describe('Short stable code of the fault'),
  detail: z.string().describe('How to mend it, in a sentence'),
})

/** So many fields at fault are listed in one problem document; its sentence says how many more there are. */
export const FIELD_ERRORS_MOST = 50

/** Problem document of RFC 9457 (Nottingham, Wilde, Dalal 2023); every non-2xx answer under /api is one. */
export const problem = z.strictObject({
  type: z.string().describe('Address of the kind of problem: /problems/<name>, the name from the closed list'),
  title: z.string().describe('The kind of problem in words'),
  status: z.int().describe('The HTTP status, repeated'),
  detail: z.string().optional().describe('What happened here and what to do'),
  instance: z.string().optional().describe('Id of this request, as in the server log'),
  errors: z
    .array(fieldError)
    .max(FIELD_ERRORS_MOST)
    .optional()
    .describe(`The fields at fault; the first ${FIELD_ERRORS_MOST} where there are more, and then the detail says how many more`),
  reason: z.enum(REFUSAL_REASONS).optional().describe('Why a sum cannot be done (cannot-be-worked-out only)'),
  missing: z
    .array(
      z.strictObject({
        code: z.string().describe('Short stable code of what is missing'),
        joint: joint.optional(),
        detail: z.string().describe('What is missing, in bench words'),
        pass: z.enum(['owner', 'never']).describe('Whether the owner may let it pass with a reason'),
      }),
    )
    .optional()
    .describe('What the next step still needs (gate-not-met only)'),
  version: z.int().optional().describe('The version that stands now (stale-version only)'),
})
export type ProblemDocument = z.infer<typeof problem>
export type FieldError = z.infer<typeof fieldError>

/** The non-2xx answers that every route may give, for its response table. */
export const problemResponses = { '4xx': problem.describe('A problem document'), '5xx': problem.describe('A problem document') }
