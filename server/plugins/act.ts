/**
 * One act: everything that one person does with one request, in one transaction. Commands take it as their first
 * argument and write through its transaction; what they note goes into the audit chain just before the commit.
 */
import type { Role } from '#contract/people.ts'
import type { Settings } from '#contract/settings.ts'
import { canonicalJson } from '#core/canonical-json.ts'
import { ask, type Db, inTransaction, sql, type Tx } from './database.ts'
import { databaseFault } from './database-faults.ts'
import { Problem } from './errors.ts'
import { newId } from './ids.ts'

export interface Caller {
  id: string
  name: string
  role: Role
  maySign: boolean
  /** Settings of the shop as they stood when the request was let in. */
  shop?: Settings
}

export interface Act {
  tx: Tx
  by: Caller
  /** The server's own time of this act, and the only "now" a command sees. */
  now: Date
  /** The id of a row that comes without one. */
  newId(): string
  /** Where lines of the history go instead of the book, for a filling that writes them together; answers their place. */
  history?: (line: HistoryLine) => Promise<number>
  /** Version that the caller saw, from If-Match; throws when none was sent. */
  expectedVersion(): number
  /** Puts a line into the audit chain: what was done to which thing, with what stood before and after. */
  note(action: string, entity: string, entityId: string, what: { before?: unknown; after?: unknown; reason?: string | undefined }): void
}

/** A line of the history of a job, as it is written down. */
export interface HistoryLine {
  id: string
  jobId: string
  kind: string
  says: string
  /** JSON. */
  data: string | null
  personId: string
  occurredAt: Date
  recordedAt: Date
}

export interface ActOptions {
  by: Caller
  now: Date
  requestId?: string
  newId?: () => string
  history?: (line: HistoryLine) => Promise<number>
  expectedVersion?: () => number
  /** Runs in the same transaction before and after the act; the stored answer of an idempotent request uses it. */
  around?: (tx: Tx, work: () => Promise<unknown>) => Promise<unknown>
}

const TRIES = 6

export async function perform<Answer>(db: Db, options: ActOptions, work: (act: Act) => Promise<Answer>): Promise<Answer> {
  for (let tried = 1; ; tried++) {
    try {
      return await once(db, options, work)
    } catch (error) {
      if (databaseFault(error) !== 'retry' || tried >= TRIES) throw error
      // Waits differ so that two that collided do not collide again.
      await new Promise((resume) => setTimeout(resume, tried * 10 * (1 + Math.random())))
    }
  }
}

/** A line of the audit chain that is written and not yet in it. */
export interface AuditLine {
  at: Date
  by: string
  requestId: string | undefined
  action: string
  entity: string
  entityId: string
  payload: string
}

async function once<Answer>(db: Db, options: ActOptions, work: (act: Act) => Promise<Answer>): Promise<Answer> {
  return inTransaction(db, async (tx) => {
    const lines: AuditLine[] = []
    const run = () => work(actWithin(tx, options, lines))
    const answer = (await (options.around ? options.around(tx, run) : run())) as Answer
    await chainUp(tx, lines)
    return answer
  })
}

/** An act within a transaction that is open; what it notes is added to the lines, which go into the chain before the commit. */
export function actWithin(tx: Tx, options: ActOptions, lines: AuditLine[]): Act {
  const { by, now, requestId, newId: idOf = () => newId(now.getTime()), expectedVersion = versionMissing } = options
  return {
    tx,
    by,
    now,
    newId: idOf,
    ...(options.history === undefined ? {} : { history: options.history }),
    expectedVersion,
    note: (action, entity, entityId, what) =>
      lines.push({ at: now, by: by.id, requestId, action, entity, entityId, payload: canonicalJson(asWire(what)) }),
  }
}

/** Puts lines into the audit chain, in their order. */
export async function chainUp(tx: Tx, lines: readonly AuditLine[]): Promise<void> {
  if (lines.length === 0) return
  const column = (of: (line: AuditLine) => string | null) => lines.map(of)
  await ask(
    tx,
    sql`
    SELECT count(audit_append(n.at, n.by, n.action, n.entity, n.entity_id, n.request_id, n.payload))::int AS chained
    FROM (SELECT * FROM unnest(${column(({ at }) => at.toISOString())}::timestamptz[], ${column(({ by }) => by)}::uuid[],
      ${column(({ action }) => action)}::text[], ${column(({ entity }) => entity)}::text[], ${column(({ entityId }) => entityId)}::text[],
      ${column(({ requestId }) => requestId ?? null)}::text[], ${column(({ payload }) => payload)}::text[])
      WITH ORDINALITY AS given (at, by, action, entity, entity_id, request_id, payload, place) ORDER BY place) n`,
  )
}

function versionMissing(): number {
  throw new Problem('precondition-required', 'Send If-Match with the version you saw, such as If-Match: "3".')
}

/** Refuses a change made on an older version than the one that stands. */
export function mustStandAt(current: number, expected: number): void {
  if (current !== expected)
    throw new Problem('stale-version', 'Somebody changed it since you opened it. Look at the new version and make the change again.', {
      version: current,
    })
}

/** A value as the wire would carry it: dates as text, fields without a value gone. */
export function asWire(value: unknown): unknown {
  return value === undefined ? null : JSON.parse(JSON.stringify(value))
}
