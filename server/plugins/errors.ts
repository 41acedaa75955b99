/** Every fault becomes a problem document (RFC 9457); what is not known becomes a bland 500 and a line in the log. */
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod'
import { FIELD_ERRORS_MOST, type FieldError, type ProblemDocument } from '#contract/errors.ts'
import { PROBLEM_STATUS, PROBLEM_TITLES, type ProblemType } from '#contract/problem-types.ts'
import type { RefusalReason } from '#core/answer.ts'
import { databaseFault } from './database-faults.ts'

type Extra = Pick<ProblemDocument, 'errors' | 'reason' | 'missing' | 'version'>

/** A fault with a name from the closed list and a sentence that the person at the screen can act on. */
export class Problem extends Error {
  override name = 'Problem'
  readonly type: ProblemType
  readonly extra: Partial<Extra>
  readonly retryAfterSeconds: number | undefined

  constructor(type: ProblemType, detail: string, extra: Partial<Extra> = {}, retryAfterSeconds?: number) {
    super(detail)
    this.type = type
    this.extra = extra
    this.retryAfterSeconds = retryAfterSeconds
  }
}

export function cannotBeWorkedOut(reason: RefusalReason, detail: string): Problem {
  return new Problem('cannot-be-worked-out', detail, { reason })
}

export function notFound(what: string): Problem {
  return new Problem('not-found', `${what} is not in the book.`)
}

/** A fault of one field that only the server can see, such as a name already taken. */
export function fieldFault(pointer: string, code: string, detail: string): Problem {
  return new Problem('validation', detail, { errors: [{ pointer, code, detail }] })
}

/** All the fields at fault in one answer. */
export function fieldFaults(errors: readonly FieldError[]): Problem {
  const more = errors.length - FIELD_ERRORS_MOST
  const rest = more > 0 ? `: the first ${FIELD_ERRORS_MOST} are listed, and there are ${more} more` : ''
  const detail = errors.length === 1 ? errors[0]!.detail : `${errors.length} fields need another look${rest}.`
  return new Problem('validation', detail, { errors: [...errors] })
}

export function problemDocument(problem: Problem, requestId: string): ProblemDocument {
  const { errors } = problem.extra
  return {
    type: `/problems/${problem.type}`,
    title: PROBLEM_TITLES[problem.type],
    status: PROBLEM_STATUS[problem.type],
    detail: problem.message,
    instance: requestId,
    ...problem.extra,
    // Nobody mends a hundred thousand fields one by one.
    ...(errors === undefined ? {} : { errors: errors.slice(0, FIELD_ERRORS_MOST) }),
  }
}

export function sendProblem(reply: FastifyReply, problem: Problem): FastifyReply {
  if (problem.retryAfterSeconds !== undefined) reply.header('retry-after', String(problem.retryAfterSeconds))
  if (problem.type === 'rate-limited' || problem.type === 'precondition-required') reply.header('cache-control', 'no-store')
  return reply
    .code(PROBLEM_STATUS[problem.type])
    .header('content-type', 'application/problem+json; charset=utf-8')
    .serializer((body: unknown) => JSON.stringify(body))
    .send(problemDocument(problem, reply.request.id))
}

export function installErrors(app: FastifyInstance): void {
  app.setErrorHandler((error: FastifyError, request, reply) => {
    const problem = asProblem(error)
    if (problem.type === 'internal') request.log.error({ err: error, route: request.routeOptions.url }, 'unexpected fault')
    return sendProblem(reply, problem)
  })
}

const FASTIFY_FAULTS: Record<string, [ProblemType, string]> = {
  FST_ERR_CTP_BODY_TOO_LARGE: ['too-large', 'Send less at once.'],
  FST_ERR_CTP_INVALID_MEDIA_TYPE: ['unsupported-media', 'Send application/json.'],
  FST_ERR_CTP_EMPTY_JSON_BODY: ['validation', 'A JSON body is missing.'],
  FST_ERR_CTP_INVALID_JSON_BODY: ['validation', 'The body is not valid JSON.'],
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: ['validation', 'The length of the body is not the one announced.'],
  FST_ERR_HANDLER_TIMEOUT: ['overloaded', 'It took too long. Try again in a moment.'],
  FST_ERR_BAD_URL: ['validation', 'The address is not well formed.'],
  FST_REQ_FILE_TOO_LARGE: ['too-large', 'The file is too large.'],
  FST_FILES_LIMIT: ['too-large', 'One file at a time.'],
  FST_PARTS_LIMIT: ['too-large', 'Too many parts.'],
  FST_FIELDS_LIMIT: ['too-large', 'Too many fields.'],
  FST_INVALID_MULTIPART_CONTENT_TYPE: ['unsupported-media', 'Send the photo as multipart/form-data.'],
}

export function asProblem(error: FastifyError | Problem | Error): Problem {
  if (error instanceof Problem) return error
  if (hasZodFastifySchemaValidationErrors(error)) return validationProblem(error)
  const known = 'code' in error ? FASTIFY_FAULTS[String(error.code)] : undefined
  if (known) return new Problem(known[0], known[1])
  const database = databaseFault(error)
  if (database === 'taken') return new Problem('conflict-state', 'The same thing is already in the book.')
  if (database === 'busy') return new Problem('overloaded', 'The book is busy. Try again in a moment.', {}, 1)
  if (database === 'full') return new Problem('read-only-mode', 'The disk of the book is full: it can be read, not written.', {}, 60)
  const status = 'statusCode' in error ? error.statusCode : undefined
  if (status === 429) return new Problem('rate-limited', error.message, {}, 1)
  if (status === 408) return new Problem('too-slow', 'Send it again.')
  if (status === 415) return new Problem('unsupported-media', 'Send application/json.')
  if (status === 400) return new Problem('validation', 'The request is not well formed.')
  if (status === 503) return new Problem('overloaded', 'Try again in a moment.', {}, 1)
  return new Problem('internal', 'It was not done. If it happens again, tell whoever keeps the server, with the number of this request.')
}

interface ZodFault {
  instancePath: string
  keyword: string
  message?: string | undefined
  params?: unknown
}

function validationProblem(error: { validation: ZodFault[]; validationContext?: string | undefined }): Problem {
  const from = error.validationContext === undefined || error.validationContext === 'body' ? '' : `#/${error.validationContext}`
  const errors: FieldError[] = error.validation.map((fault) => ({
    // The whole document is the empty pointer (RFC 6901 §5), not a slash.
    pointer: `${from}${fault.instancePath === '/' ? '' : fault.instancePath}`,
    code: fault.keyword,
    detail: fault.message ?? 'out of shape',
  }))
  return fieldFaults(errors)
}

export function unknownAddress(_request: FastifyRequest, reply: FastifyReply): FastifyReply {
  return sendProblem(reply, new Problem('not-found', 'There is nothing at this address.'))
}
