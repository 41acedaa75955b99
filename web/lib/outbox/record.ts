import { anything, fields, figure, listOf, oneOf, optional, text } from '#web/lib/shape.ts'

/** Shape of a record; one of another shape waits for a page that knows it. */
export const OUTBOX_SCHEMA = 1

export interface LastError {
  /** HTTP answer; absent where none came. */
  status?: number | undefined
  type?: string | undefined
  /** In words that a person may read. */
  says: string
  at: string
  /** What a gate still wants. */
  missing?: string[] | undefined
}

/**
 * One act of the hand that the book does not have yet. It says whose it is by id alone: no name, phone or address of a
 * person belongs into the storage of a browser (OWASP ASVS 5.0, 14.3.3).
 */
export interface OutboxRecord {
  /** The Idempotency-Key it goes out with, now and on every further try. */
  key: string
  /** Order of writing on this tablet. */
  seq: number
  personId: string
  /** What must keep its order: everything on one job, or the clock of one person. */
  lane: string
  jobId?: string | undefined
  /** What it is, for the list of what waits. */
  what: string
  method: 'POST'
  route: string
  body: unknown
  /** What the screens show in its place until the book has it; null where they show nothing. */
  shown: unknown
  /** Of the page that made it, see ownVersion. */
  version?: string | undefined
  occurredAt: string
  tries: number
  /** Not to be tried before, milliseconds since 1970. */
  notBefore: number
  /** Parked: the book said no, and only a person can mend it. */
  state: 'waiting' | 'parked'
  lastError?: LastError | undefined
  schema: number
}
export type OutboxNew = Omit<OutboxRecord, 'seq'>

const lastError = fields<LastError>({
  status: optional(figure),
  type: optional(text),
  says: text,
  at: text,
  missing: optional(listOf(text)),
})

export const outboxRecord = fields<OutboxRecord>({
  key: text,
  seq: figure,
  personId: text,
  lane: text,
  jobId: optional(text),
  what: text,
  method: oneOf('POST'),
  route: text,
  body: anything,
  shown: anything,
  version: optional(text),
  occurredAt: text,
  tries: figure,
  notBefore: figure,
  state: oneOf('waiting', 'parked'),
  lastError: optional(lastError),
  schema: figure,
})
