import type { LastError } from '#web/lib/outbox/record.ts'
import { inWords, Problem, TookTooLong, Unreachable } from '#web/lib/problem.ts'

/** What a try came to: the book has it; try again later; who is signed in is not known any more; or a person has to look. */
export type Verdict =
  | { kind: 'taken'; body: unknown }
  | { kind: 'later'; error: LastError; afterMs: number | undefined }
  | { kind: 'signed-out'; error: LastError }
  | { kind: 'refused'; error: LastError; problem: unknown }

/** Reads a failed try. Only what the book itself refused is parked; whatever may be the network's doing is tried again. */
export function verdictOf(error: unknown, at: string): Verdict {
  const says = inWords(error)
  if (!(error instanceof Problem)) {
    const away = error instanceof Unreachable || error instanceof TookTooLong
    return { kind: 'later', error: { says: away ? 'The book could not be reached.' : says, at }, afterMs: undefined }
  }
  const told: LastError = {
    status: error.status,
    type: error.type,
    says,
    at,
    ...(error.missing.length === 0 ? {} : { missing: error.missing.map((one) => one.detail) }),
  }
  const afterMs = error.retryAfterSeconds === undefined ? undefined : error.retryAfterSeconds * 1000
  if (error.status === 401) return { kind: 'signed-out', error: told }
  if (error.type === 'idempotency-in-progress' || error.status === 408 || error.status === 429 || error.status >= 500)
    return { kind: 'later', error: told, afterMs }
  return { kind: 'refused', error: told, problem: error }
}

export const BACK_OFF = { firstMs: 1_000, mostMs: 60_000 } as const

/**
 * How long to wait before the next try: doubling from a second to a minute, each anywhere in its upper half, so that the
 * tablets of a shop do not all come at once when the network is back.
 *
 * @example backOffMs(1, 0) // 500
 */
export function backOffMs(tries: number, random: number): number {
  if (!Number.isInteger(tries) || tries < 1) throw new RangeError('backOffMs needs one try at least')
  const whole = Math.min(BACK_OFF.mostMs, BACK_OFF.firstMs * 2 ** Math.min(tries - 1, 16))
  return Math.round(whole * (0.5 + random / 2))
}
