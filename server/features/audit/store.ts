import type pg from 'pg'
import type { AuditQuery } from '#contract/audit.ts'
import type { AuditLink } from '#core/audit-chain.ts'
import { AUDIT_THINGS, type AuditThing } from '#core/audit-words.ts'
import { numberCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'

const PAGE = 2_000

const LINK = `seq, to_char(recorded_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') AS "recordedAt", actor_id AS "actorId", action, entity,
  entity_id AS "entityId", request_id AS "requestId", payload, payload_hash AS "payloadHash", prev_hash AS "prevHash", hash`

type LinkRow = Omit<AuditLink, 'seq'> & { seq: string }

/** All rows of the chain in order, a page at a time. */
export async function* auditRows(pool: Pick<pg.Pool, 'query'>): AsyncGenerator<AuditLink> {
  for (let after = -1; ; ) {
    const rows = await auditPiece(pool, after, PAGE)
    yield* rows
    if (rows.length < PAGE) return
    after = rows.at(-1)?.seq ?? after
  }
}

/** The rows of the chain that follow one, as many as asked for. */
export async function auditPiece(pool: Pick<pg.Pool, 'query'>, after: number, most: number): Promise<AuditLink[]> {
  const { rows } = await pool.query<LinkRow>(`SELECT ${LINK} FROM audit_row WHERE seq > $1 ORDER BY seq LIMIT $2`, [after, most])
  return rows.map((row) => ({ ...row, seq: Number(row.seq) }))
}

/** One row's hash; null where there is no such row. */
export async function hashAt(pool: pg.Pool, seq: number): Promise<Uint8Array | null> {
  const { rows } = await pool.query<{ hash: Uint8Array }>('SELECT hash FROM audit_row WHERE seq = $1', [seq])
  return rows[0]?.hash ?? null
}

/** How many rows the chain has. */
export async function chainLength(pool: pg.Pool): Promise<number> {
  const { rows } = await pool.query<{ last: string | null }>('SELECT max(seq) AS last FROM audit_row')
  return Number(rows[0]?.last ?? 0)
}

// ---- reading it --------------------------------------------------------------------------------------------------------

export interface AuditRowRead {
  seq: number
  at: Date
  actorId: string | null
  action: string
  entity: string
  entityId: string
  payload: string | null
}

/** What belongs to a job, by the tables that name it. */
const OF_A_JOB = ['measurement', 'truing_move', 'pressing', 'weld', 'photo', 'clock_entry', 'certificate', 'quote', 'comeback', 'follow_up']

/** Ids under which the history of one thing stands in the chain; $1 is its own. */
function idsOf(thing: AuditThing): string {
  if (thing === 'job')
    return `SELECT $1::text UNION ALL ${OF_A_JOB.map((table) => `SELECT id::text FROM ${table} WHERE job_id = ($1::text)::uuid`).join(' UNION ALL ')}`
  return thing === 'customer'
    ? 'SELECT $1::text UNION ALL SELECT id::text FROM customer WHERE merged_into_id = ($1::text)::uuid'
    : 'SELECT $1::text'
}

async function historyIds(pool: pg.Pool, thing: AuditThing, id: string): Promise<string[]> {
  const { rows } = await pool.query<{ id: string }>(`SELECT ids.id FROM (${idsOf(thing)}) ids (id)`, [id])
  return rows.map((row) => row.id)
}

/** Rows of the chain, newest first, by who did it, what it was done to, what was done, and when; days are of the shop's zone. */
export async function listAudit(pool: pg.Pool, asked: AuditQuery, zone: string): Promise<{ rows: AuditRowRead[]; next: string | null }> {
  const { person, thing, id, action, from, to, after, limit } = asked
  const { rows } = await pool.query<AuditRowRead>(
    `SELECT seq::float8 AS seq, recorded_at AS at, actor_id AS "actorId", action, entity, entity_id AS "entityId", payload FROM audit_row
     WHERE seq < coalesce($1::bigint, 9007199254740991)
       AND ($2::uuid IS NULL OR actor_id = $2::uuid)
       AND ($3::text IS NULL OR action = $3)
       AND ($4::date IS NULL OR recorded_at >= ($4::date::timestamp AT TIME ZONE $8))
       AND ($5::date IS NULL OR recorded_at < (($5::date + 1)::timestamp AT TIME ZONE $8))
       AND ($6::text[] IS NULL OR entity = ANY ($6::text[]))
       AND ($7::text[] IS NULL OR entity_id = ANY ($7::text[]))
     ORDER BY seq DESC LIMIT ${pageLength(limit) + 1}`,
    [
      numberCursor(after),
      person ?? null,
      action ?? null,
      from ?? null,
      to ?? null,
      thing === undefined ? null : [...AUDIT_THINGS[thing]],
      thing === undefined || id === undefined ? null : await historyIds(pool, thing, id),
      zone,
    ],
  )
  return pageFrom(rows, limit, (row) => String(row.seq))
}

export interface Named {
  says: string
  /** The job, where the thing is one or belongs to one. */
  jobId: string | null
}

/** What the things of these ids are called; those that are not in the book are missing. */
export async function namesOf(pool: pg.Pool, ids: readonly string[]): Promise<Map<string, Named>> {
  if (ids.length === 0) return new Map()
  const ofJobs = OF_A_JOB.map((table) => `SELECT id, job_id FROM ${table} WHERE id = ANY ($1::uuid[])`).join(' UNION ALL ')
  const { rows } = await pool.query<Named & { id: string }>(
    `SELECT id, name AS says, NULL::uuid AS "jobId" FROM person WHERE id = ANY ($1::uuid[])
     UNION ALL SELECT id, name, NULL FROM customer WHERE id = ANY ($1::uuid[])
     UNION ALL SELECT id, name, NULL FROM instrument WHERE id = ANY ($1::uuid[])
     UNION ALL SELECT id, name, NULL FROM gauge_study WHERE id = ANY ($1::uuid[])
     UNION ALL SELECT id, 'part ' || part || ', round ' || round, NULL FROM gauge_reading WHERE id = ANY ($1::uuid[])
     UNION ALL SELECT id, name, NULL FROM device WHERE id = ANY ($1::uuid[])
     UNION ALL SELECT id, maker || ' ' || code, NULL FROM engine WHERE id = ANY ($1::uuid[])
     UNION ALL SELECT id, maker || ' ' || part, NULL FROM kit_model WHERE id = ANY ($1::uuid[])
     UNION ALL SELECT k.id, concat_ws(' ', e.maker, e.code, k.engine_number), NULL FROM crank k JOIN engine e ON e.id = k.engine_id WHERE k.id = ANY ($1::uuid[])
     UNION ALL SELECT id, tag, id FROM job WHERE id = ANY ($1::uuid[])
     UNION ALL SELECT t.id, j.tag, j.id FROM (${ofJobs}) t JOIN job j ON j.id = t.job_id`,
    [ids],
  )
  return new Map(rows.map(({ id, ...named }) => [id, named]))
}

/** Of these jobs, those that stand where a second reading may be what comes next. */
export async function awaitingSecond(pool: pg.Pool, jobIds: readonly string[]): Promise<string[]> {
  const { rows } = await pool.query<{ id: string }>(
    `SELECT id FROM job WHERE id = ANY ($1::uuid[]) AND (state = 'trued' OR (state = 'measured' AND kind = 'check-and-report'))`,
    [jobIds],
  )
  return rows.map(({ id }) => id)
}
