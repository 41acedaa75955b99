import { z } from 'zod'
import { REFUSAL_REASONS } from '#core/answer.ts'

/** Every kind of problem this service answers with. A client may rely on these names; the list only grows. */
export const PROBLEM_TYPES = [
  'validation',
  'signed-out',
  'forbidden',
  'not-found',
  'method-not-allowed',
  'stale-version',
  'precondition-required',
  'idempotency-key-missing',
  'idempotency-in-progress',
  'idempotency-mismatch',
  'conflict-state',
  'gate-not-met',
  'cannot-be-worked-out',
  'too-large',
  'unsupported-media',
  'too-slow',
  'rate-limited',
  'overloaded',
  'read-only-mode',
  'wrong-sign-in',
  'internal',
] as const
export type ProblemType = (typeof PROBLEM_TYPES)[number]

export const PROBLEM_STATUS = {
  validation: 400,
  'signed-out': 401,
  'wrong-sign-in': 401,
  forbidden: 403,
  'not-found': 404,
  'method-not-allowed': 405,
  'too-slow': 408,
  'idempotency-in-progress': 409,
  'conflict-state': 409,
  'gate-not-met': 409,
  'stale-version': 412,
  'too-large': 413,
  'unsupported-media': 415,
  'idempotency-mismatch': 422,
  'cannot-be-worked-out': 422,
  'precondition-required': 428,
  'rate-limited': 429,
  internal: 500,
  overloaded: 503,
  'read-only-mode': 503,
  'idempotency-key-missing': 400,
} as const satisfies Record<ProblemType, number>

export const PROBLEM_TITLES = {
  validation: 'Something in what was sent is out of shape',
  'signed-out': 'Nobody is signed in here',
  'wrong-sign-in': 'Name and password do not go together',
  forbidden: 'Not for this person',
  'not-found': 'There is nothing here',
  'method-not-allowed': 'This address does not take that method',
  'too-slow': 'The request took too long to arrive',
  'idempotency-in-progress': 'The same request is still being worked on',
  'conflict-state': 'It cannot be done as things stand',
  'gate-not-met': 'The next step is not open yet',
  'stale-version': 'Somebody changed it in the meantime',
  'too-large': 'Too much was sent at once',
  'unsupported-media': 'This kind of content is not taken here',
  'idempotency-mismatch': 'That key was used for something else',
  'cannot-be-worked-out': 'The sum cannot be done with these figures',
  'precondition-required': 'Say which version you saw',
  'rate-limited': 'Too many requests, wait a little',
  internal: 'Something went wrong on our side',
  overloaded: 'Too busy just now, try again',
  'read-only-mode': 'The book can be read but not written just now',
  'idempotency-key-missing': 'The request needs an Idempotency-Key',
} as const satisfies Record<ProblemType, string>

const fieldError = z.strictObject({
  pointer: z.string().describe('JSON Pointer (RFC 6901) to the field in the body, or #/query/… for the address'),
  code: z.string().describe('Short stable code of the fault'),
  detail: z.string().describe('How to mend it, in a sentence'),
})

/** Problem document of RFC 9457 (Nottingham, Wilde, Dalal 2023); every non-2xx answer under /api is one. */
export const problem = z.strictObject({
  type: z.string().describe('Address of the kind of problem: /problems/<name>, the name from the closed list'),
  title: z.string().describe('The kind of problem in words'),
  status: z.int().describe('The HTTP status, repeated'),
  detail: z.string().optional().describe('What happened here and what to do'),
  instance: z.string().optional().describe('Id of this request, as in the server log'),
  errors: z.array(fieldError).optional().describe('The fields at fault'),
  reason: z.enum(REFUSAL_REASONS).optional().describe('Why a sum cannot be done (cannot-be-worked-out only)'),
  missing: z
    .array(
      z.strictObject({
        code: z.string().describe('Short stable code of what is missing'),
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
