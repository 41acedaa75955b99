import type { z } from 'zod'
import type { jobEvent } from '#contract/events.ts'
import type { Role } from '#contract/people.ts'
import { Prisma } from '#prisma/client/client.ts'
import type { Act, HistoryLine } from '#server/plugins/act.ts'
import { numberCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'

export type JobEvent = z.infer<typeof jobEvent>

/** An instant of this column as the wire says it, for JSON made in a statement. The column is named here in the code, never by a sender. */
export function wireInstant(column: string): Prisma.Sql {
  return Prisma.raw(`to_char(${column} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`)
}

export interface Happening {
  /** Short name of what happened. */
  kind: string
  /**
   * What happened, in a sentence that anybody in the shop may read: no name of a customer, no price. Lines of the history
   * are never changed, and a name in one could not be taken out again.
   */
  says: string
  /** The fuller sentence that counter and owner read instead. */
  toCounter?: string | undefined
  data?: Record<string, unknown> | undefined
  id?: string | undefined
  occurredAt?: string | undefined
}

/** When something happened by the sender's clock; the act's own time where the sender did not say. */
export function momentOf(act: Act, occurredAt: string | undefined): Date {
  return occurredAt === undefined ? act.now : new Date(occurredAt)
}

/** Writes a line into the history of a job. */
export async function addEvent(act: Act, jobId: string, happening: Happening): Promise<JobEvent> {
  const { kind, says, toCounter, data, id, occurredAt } = happening
  const kept = { ...data, ...(toCounter === undefined ? {} : { toCounter }) }
  const line: HistoryLine = {
    id: id ?? act.newId(),
    jobId,
    kind,
    says,
    data: Object.keys(kept).length === 0 ? null : JSON.stringify(kept),
    personId: act.by.id,
    occurredAt: momentOf(act, occurredAt),
    recordedAt: act.now,
  }
  const seq = await (act.history ? act.history(line) : writeLine(act.tx, line))
  return {
    seq,
    kind,
    says: act.by.role === 'bench' ? says : (toCounter ?? says),
    by: act.by.name,
    occurredAt: line.occurredAt.toISOString(),
    recordedAt: act.now.toISOString(),
  }
}

async function writeLine(tx: Tx, line: HistoryLine): Promise<number> {
  const { id, jobId, kind, says, data, personId, occurredAt, recordedAt } = line
  const [row] = await ask<{ seq: number }>(
    tx,
    Prisma.sql`INSERT INTO job_event (id, job_id, kind, says, data, person_id, occurred_at, recorded_at)
      VALUES (${id}::uuid, ${jobId}::uuid, ${kind}, ${says}, ${data}::jsonb, ${personId}::uuid, ${occurredAt}, ${recordedAt}) RETURNING seq::float8 AS seq`,
  )
  return row!.seq
}

interface EventRow {
  seq: number
  kind: string
  says: string
  by: string | null
  occurredAt: Date
  recordedAt: Date
}

/** The history of a job, newest line first, in the words that this role may read; null where there is no such job. */
export async function listEvents(
  db: Db,
  jobId: string,
  role: Role,
  asked: { after?: string | undefined; limit?: number | undefined },
): Promise<{ rows: JobEvent[]; next: string | null } | null> {
  const rows = await db.prisma.$queryRaw<(EventRow | { seq: null })[]>`
    SELECT v.seq::float8 AS seq, v.kind, CASE WHEN ${role} = 'bench' THEN v.says ELSE coalesce(v.data->>'toCounter', v.says) END AS says,
      p.name AS by, v.occurred_at AS "occurredAt", v.recorded_at AS "recordedAt"
    FROM job j LEFT JOIN LATERAL (
      SELECT * FROM job_event WHERE job_id = j.id AND seq < coalesce(${numberCursor(asked.after)}::bigint, 9007199254740991)
      ORDER BY seq DESC LIMIT ${pageLength(asked.limit) + 1}) v ON true
    LEFT JOIN person p ON p.id = v.person_id
    WHERE j.id = ${jobId}::uuid ORDER BY v.seq DESC`
  if (rows.length === 0) return null
  const events = rows.filter((row): row is EventRow => row.seq !== null)
  const page = pageFrom(events, asked.limit, (row) => String(row.seq))
  return {
    rows: page.rows.map(({ by, occurredAt, recordedAt, ...row }) => ({
      ...row,
      ...(by === null ? {} : { by }),
      occurredAt: occurredAt.toISOString(),
      recordedAt: recordedAt.toISOString(),
    })),
    next: page.next,
  }
}

export async function jobExists(tx: Tx | Db['prisma'], id: string): Promise<boolean> {
  return (await tx.job.findUnique({ where: { id }, select: { id: true } })) !== null
}
