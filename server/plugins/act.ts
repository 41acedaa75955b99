/**
 * One act: everything that one person does with one request, in one transaction. Commands take it as their first
 * argument and write through its transaction; what they note goes into the audit chain just before the commit.
 */
import type { Role } from '#contract/people.ts'
import { canonicalJson } from '#core/canonical-json.ts'
import type { Db, Tx } from './database.ts'
import { databaseFault } from './database-faults.ts'
import { Problem } from './errors.ts'

export interface Caller {
  id: string
  name: string
  role: Role
  maySign: boolean
}

export interface Act {
  tx: Tx
  by: Caller
  /** The server's own time of this act, and the only "now" a command sees. */
  now: Date
  /** Version that the caller saw, from If-Match; throws when none was sent. */
  expectedVersion(): number
  /** Puts a line into the audit chain: what was done to which thing, with what stood before and after. */
  note(action: string, entity: string, entityId: string, what: { before?: unknown; after?: unknown; reason?: string | undefined }): void
}

export interface ActOptions {
  by: Caller
  now: Date
  requestId?: string
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

interface AuditNote {
  action: string
  entity: string
  entityId: string
  payload: string
}

async function once<Answer>(db: Db, options: ActOptions, work: (act: Act) => Promise<Answer>): Promise<Answer> {
  return db.prisma.$transaction(async (tx) => {
    const notes: AuditNote[] = []
    const act: Act = {
      tx,
      by: options.by,
      now: options.now,
      expectedVersion: options.expectedVersion ?? versionMissing,
      note: (action, entity, entityId, what) => notes.push({ action, entity, entityId, payload: canonicalJson(asWire(what)) }),
    }
    const run = () => work(act)
    const answer = (await (options.around ? options.around(tx, run) : run())) as Answer
    for (const note of notes)
      await tx.$queryRaw`SELECT audit_append(${options.now}::timestamptz, ${options.by.id}::uuid, ${note.action}, ${note.entity}, ${note.entityId}, ${options.requestId ?? null}, ${note.payload})`
    return answer
  })
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
