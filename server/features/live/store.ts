import pg from 'pg'
import type { LiveNews } from '#contract/live.ts'
import type { Role } from '#contract/people.ts'
import type { SessionLimits } from '#server/features/settings/store.ts'
import type { Db } from '#server/plugins/database.ts'

/** Kinds of things whose rows name their job. */
export const OF_A_JOB = [
  'measurement',
  'pressing',
  'weld',
  'truing_move',
  'photo',
  'certificate',
  'clock_entry',
  'comeback',
  'follow_up',
] as const

const NEWS = `SELECT a.seq::float8 AS seq, a.entity, a.entity_id AS id,
  CASE a.entity WHEN 'job' THEN a.entity_id WHEN 'box' THEN a.entity_id
  ${OF_A_JOB.map((kind) => `WHEN '${kind}' THEN (SELECT job_id::text FROM ${kind} WHERE id = a.entity_id::uuid)`).join(' ')} END AS job_id
  FROM audit_row a WHERE a.seq > $1 ORDER BY a.seq LIMIT $2`

/** What was written into the audit chain after a number, oldest first. The chain's numbers are in the order of the commits. */
export async function newsAfter(db: Db, seq: number, most: number): Promise<LiveNews[]> {
  const { rows } = await db.pool.query<{ seq: number; entity: string; id: string; job_id: string | null }>({
    name: 'live-news',
    text: NEWS,
    values: [seq, most],
  })
  return rows.map(({ job_id, ...row }) => ({
    entity: row.entity,
    id: row.id,
    ...(job_id === null ? {} : { jobId: job_id }),
    seq: row.seq,
  }))
}

export async function lastSeq(db: Db): Promise<number> {
  const { rows } = await db.pool.query<{ seq: number }>('SELECT coalesce(max(seq), 0)::float8 AS seq FROM audit_row')
  return rows[0]?.seq ?? 0
}

/** Role of each session that still holds, by the hex of its hash. */
export async function rolesOf(db: Db, hashes: Uint8Array[], now: Date, limits: SessionLimits): Promise<Map<string, Role>> {
  const { rows } = await db.pool.query<{ hash: string; role: Role }>({
    name: 'live-sessions',
    text: `SELECT encode(s.id_hash, 'hex') AS hash, p.role FROM session s JOIN person p ON p.id = s.person_id
           WHERE s.id_hash = ANY($1::bytea[]) AND s.ended_at IS NULL AND s.ends_at > $2 AND s.last_seen_at > $3 AND p.barred_at IS NULL`,
    values: [hashes.map((hash) => Buffer.from(hash)), now, new Date(now.getTime() - limits.idleMs)],
  })
  return new Map(rows.map((row) => [row.hash, row.role]))
}

const AGAIN_MS = { first: 250, most: 10_000 } as const

export interface Listener {
  /** Once it listens for the first time, or has failed to. */
  begun: Promise<void>
  close(): Promise<void>
}

/** One connection of its own that hears of every commit that wrote into the audit chain; it comes back by itself. */
export function listen(db: Db, onWake: () => void): Listener {
  let client: pg.Client | undefined
  let closed = false
  let tries = 0
  let timer: NodeJS.Timeout | undefined

  const later = () => {
    client = undefined
    if (closed || timer !== undefined) return
    timer = setTimeout(
      () => {
        timer = undefined
        void connect()
      },
      Math.min(AGAIN_MS.most, AGAIN_MS.first * 2 ** tries++),
    )
  }

  const connect = async () => {
    const { connectionString, options, connectionTimeoutMillis } = db.pool.options
    const next = new pg.Client({ connectionString, options, connectionTimeoutMillis, keepAlive: true })
    client = next
    // A connection that breaks also ends, and the end brings the next try.
    next.on('error', () => {})
    next.once('end', later)
    next.on('notification', onWake)
    try {
      await next.connect()
      await next.query('LISTEN throwbook')
      tries = 0
      // What was written while nobody listened.
      onWake()
    } catch {
      await next.end().catch(() => {})
      later()
    }
  }

  return {
    begun: connect(),
    async close() {
      closed = true
      clearTimeout(timer)
      await client?.end().catch(() => {})
    },
  }
}
