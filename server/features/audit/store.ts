import type pg from 'pg'
import type { AuditLink } from '#core/audit-chain.ts'

const PAGE = 2_000

/** All rows of the chain in order, a page at a time. */
export async function* auditRows(pool: pg.Pool): AsyncGenerator<AuditLink> {
  for (let after = -1; ; ) {
    const { rows } = await pool.query<Omit<AuditLink, 'seq'> & { seq: string }>(
      `SELECT seq, to_char(recorded_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') AS "recordedAt", actor_id AS "actorId", action, entity,
         entity_id AS "entityId", request_id AS "requestId", payload, payload_hash AS "payloadHash", prev_hash AS "prevHash", hash
       FROM audit_row WHERE seq > $1 ORDER BY seq LIMIT ${PAGE}`,
      [after],
    )
    for (const row of rows) yield { ...row, seq: Number(row.seq) }
    if (rows.length < PAGE) return
    after = Number(rows.at(-1)?.seq)
  }
}
