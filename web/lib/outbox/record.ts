import { z } from 'zod'

/** Shape of a record; one of another shape waits for a page that knows it. */
export const OUTBOX_SCHEMA = 1

const lastError = z.strictObject({
  /** HTTP answer; absent where none came. */
  status: z.number().optional(),
  type: z.string().optional(),
  /** In words that a person may read. */
  says: z.string(),
  at: z.string(),
  /** What a gate still wants. */
  missing: z.array(z.string()).optional(),
})

/**
 * One act of the hand that the book does not have yet. It says whose it is by id alone: no name, phone or address of a
 * person belongs into the storage of a browser (OWASP ASVS 5.0, 14.3.3).
 */
export const outboxRecord = z.strictObject({
  /** The Idempotency-Key it goes out with, now and on every further try. */
  key: z.string(),
  /** Order of writing on this tablet. */
  seq: z.number(),
  personId: z.string(),
  /** What must keep its order: everything on one job, or the clock of one person. */
  lane: z.string(),
  jobId: z.string().optional(),
  /** What it is, for the list of what waits. */
  what: z.string(),
  method: z.literal('POST'),
  route: z.string(),
  body: z.unknown(),
  /** What the screens show in its place until the book has it. */
  shown: z.unknown(),
  occurredAt: z.string(),
  tries: z.number(),
  /** Not to be tried before, milliseconds since 1970. */
  notBefore: z.number(),
  /** Parked: the book said no, and only a person can mend it. */
  state: z.enum(['waiting', 'parked']),
  lastError: lastError.optional(),
  schema: z.number(),
})
export type OutboxRecord = z.infer<typeof outboxRecord>
export type OutboxNew = Omit<OutboxRecord, 'seq'>
export type LastError = z.infer<typeof lastError>
