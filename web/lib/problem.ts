import type { FieldError, ProblemDocument } from '#contract/errors.ts'
import { PROBLEM_TITLES, PROBLEM_TYPES, type ProblemType } from '#contract/problem-types.ts'
import { REFUSAL_REASONS } from '#core/answer.ts'
import type { Joint } from '#core/crank-build.ts'
import { fields, figure, listOf, oneOf, optional, read, type Shape, text } from '#web/lib/shape.ts'

const KNOWN_TYPES: readonly string[] = PROBLEM_TYPES

const problemDocument = fields<ProblemDocument>({
  type: text,
  title: text,
  status: figure,
  detail: optional(text),
  instance: optional(text),
  errors: optional(listOf(fields<FieldError>({ pointer: text, code: text, detail: text }))),
  reason: optional(oneOf(...REFUSAL_REASONS)),
  missing: optional(
    listOf(
      fields<NonNullable<ProblemDocument['missing']>[number]>({
        code: text,
        detail: text,
        pass: oneOf('owner', 'never'),
        // Which joints there are is not for every page to know.
        joint: optional(text) as Shape<Joint | undefined>,
      }),
    ),
  ),
  version: optional(figure),
})

function named(type: string, status: number): ProblemType {
  const name = type.slice(type.lastIndexOf('/') + 1)
  if (KNOWN_TYPES.includes(name)) return name as ProblemType
  return status >= 500 ? 'internal' : 'conflict-state'
}

/** What the book answered instead of doing it: a problem document (RFC 9457), its type by its short name. */
export class Problem extends Error {
  override readonly name = 'Problem'
  readonly type: ProblemType
  readonly title: string
  readonly status: number
  readonly detail: string | undefined
  readonly instance: string | undefined
  readonly errors: FieldError[]
  readonly reason: ProblemDocument['reason']
  readonly missing: NonNullable<ProblemDocument['missing']>
  /** The version that stands now, when ours was stale. */
  readonly version: number | undefined
  /** How long to hold off, when told to slow down. */
  readonly retryAfterSeconds: number | undefined

  constructor(document: ProblemDocument, retryAfterSeconds?: number) {
    super(document.detail ?? document.title)
    this.type = named(document.type, document.status)
    this.title = document.title
    this.status = document.status
    this.detail = document.detail
    this.instance = document.instance
    this.errors = document.errors ?? []
    this.reason = document.reason
    this.missing = document.missing ?? []
    this.version = document.version
    this.retryAfterSeconds = retryAfterSeconds
  }
}

/** The network or the server gave no answer at all; nothing is known about what was done. */
export class Unreachable extends Error {
  override readonly name = 'Unreachable'
}

/** No answer within the time allowed; nothing is known about what was done. */
export class TookTooLong extends Error {
  override readonly name = 'TookTooLong'
}

/** An answer came that this page cannot read: as a rule the page is older than the book. */
export class NotUnderstood extends Error {
  override readonly name = 'NotUnderstood'
}

/** The book answered as asked, but it is of another version than this page, so that its answer may have another shape. */
export class NewerBook extends NotUnderstood {
  readonly answer: unknown

  constructor(message: string, answer: unknown) {
    super(message)
    this.answer = answer
  }
}

/** Reads a non-2xx body as a problem; a body that is none (a proxy's page, say) still becomes one, by its status. */
export function problemFrom(status: number, body: unknown, retryAfterSeconds?: number): Problem {
  const document = read(problemDocument, body)
  if (document !== undefined) return new Problem(document, retryAfterSeconds)
  const type: ProblemType =
    status === 401
      ? 'signed-out'
      : status === 403
        ? 'forbidden'
        : status === 404
          ? 'not-found'
          : status === 429
            ? 'rate-limited'
            : status >= 500
              ? 'overloaded'
              : 'conflict-state'
  return new Problem({ type, title: PROBLEM_TITLES[type], status }, retryAfterSeconds)
}

/** What to tell the person, in a sentence or two with what to do next. */
export function inWords(error: unknown): string {
  if (error instanceof Problem) {
    if (error.type === 'signed-out') return 'You are signed out. Sign in, then press it again; what you typed is still here.'
    if (error.type === 'rate-limited') {
      const wait = error.retryAfterSeconds
      return wait ? `That was too often. Try again in ${wait} seconds.` : 'That was too often. Wait a little, then try again.'
    }
    if (error.type === 'stale-version')
      return 'Somebody changed this while you had it open. Look at what stands now before you write over it.'
    return error.detail ?? `${error.title}.`
  }
  if (error instanceof TookTooLong)
    return 'The book did not answer in time. It may or may not have been written; pressing again does no harm.'
  if (error instanceof Unreachable) return 'The book cannot be reached. Look at the network, then try again; what you typed is still here.'
  if (error instanceof NotUnderstood) return 'This page is older than the book. Load the page again.'
  return 'Something in this page broke. Load the page again.'
}
