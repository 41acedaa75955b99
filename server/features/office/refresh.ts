/**
 * Keeps office_job and office_sum in step with the book. Whatever changes a job marks it, in its own transaction, by
 * triggers; before the office is read, the marked jobs are worked out again and what changed in them goes into the sums.
 */

import { OWES } from '#server/features/money/store.ts'
import type { Db } from '#server/plugins/database.ts'
import { COUNTED_IN } from './counted.ts'
import { type AsItStands, type Fact, factOf } from './fact.ts'

/** One connection of the pool, for a transaction. */
type Client = Pick<Db['pool'], 'query'>

/** Jobs of one transaction; a long catch-up is many of them, each kept. */
const AT_ONCE = 5_000
const LOCK = 730212

const MARKED = `SELECT EXISTS (SELECT 1 FROM office_stale) OR NOT EXISTS (SELECT 1 FROM office_zone WHERE zone = $1) AS marked`

/** Works out again what changed since it was last read. */
export async function refreshOffice(db: Pick<Db, 'pool'>, zone: string): Promise<void> {
  const { rows } = await db.pool.query<{ marked: boolean }>({ name: 'office marked', text: MARKED, values: [zone] })
  if (!rows[0]?.marked) return
  const client = await db.pool.connect()
  try {
    for (let taken = AT_ONCE; taken > 0; ) taken = await inTransaction(client, () => takeMarked(client, zone))
  } finally {
    client.release()
  }
}

async function inTransaction<Answer>(client: Client, work: () => Promise<Answer>): Promise<Answer> {
  await client.query('BEGIN')
  try {
    const answer = await work()
    await client.query('COMMIT')
    return answer
  } catch (fault) {
    await client.query('ROLLBACK')
    throw fault
  }
}

/**
 * One transaction of it: so many marks are taken away, and the jobs worked out as they stand after that. A change that is
 * committed in between is seen already and still has its mark, which does no harm: it changes nothing the second time.
 */
async function takeMarked(client: Client, zone: string): Promise<number> {
  await client.query('SELECT pg_advisory_xact_lock($1)', [LOCK])
  await inZone(client, zone)
  const marked = await client.query<{ job_id: string }>(
    'DELETE FROM office_stale WHERE (job_id, tx) IN (SELECT job_id, tx FROM office_stale ORDER BY job_id, tx LIMIT $1) RETURNING job_id',
    [AT_ONCE],
  )
  if (marked.rows.length === 0) return 0
  const jobs = await client.query<AsItStands>(AS_THEY_STAND, [zone, [...new Set(marked.rows.map((row) => row.job_id))]])
  await client.query(KEEP, [JSON.stringify(jobs.rows.map(factOf))])
  return marked.rows.length
}

/** Days of another zone are other days: every job is worked out again. */
async function inZone(client: Client, zone: string): Promise<void> {
  const changed = await client.query(
    `INSERT INTO office_zone (zone) VALUES ($1) ON CONFLICT (one) DO UPDATE SET zone = excluded.zone WHERE office_zone.zone <> excluded.zone`,
    [zone],
  )
  if (changed.rowCount !== 0) await client.query('INSERT INTO office_stale (job_id) SELECT id FROM job ON CONFLICT DO NOTHING')
}

const IN_THE_HOUSE = `l.state NOT IN ('gone', 'given-back', 'scrapped')`
/** A maker gives one number to a lot over several parts, and a bad lot is bad in all of them: it is told by its first row. */
const FIRST_OF_LOT = `(SELECT o.id FROM kit_lot l JOIN kit_model m ON m.id = l.kit_model_id JOIN kit_lot o ON o.lot = l.lot
  JOIN kit_model om ON om.id = o.kit_model_id AND om.maker = m.maker WHERE l.id = lot.kit_lot_id ORDER BY o.id LIMIT 1)`
const HAS_A_KIT = `EXISTS (SELECT 1 FROM kit_fitted x WHERE x.job_id = l.id AND x.struck_at IS NULL)`

/**
 * $1 the zone, $2 the jobs. The other jobs of the same cranks come with them, since a later job tells whether a kit is
 * still out.
 */
const AS_THEY_STAND = `
  SELECT j.id AS job_id, j.number, j.kind, k.engine_id, ${FIRST_OF_LOT} AS lot_id, trued.person_id AS trued_by,
    (j.booked_at AT TIME ZONE $1)::date::text AS booked_on, (left_house.at AT TIME ZONE $1)::date::text AS out_on,
    CASE WHEN j.state = 'gone' THEN (left_house.at AT TIME ZONE $1)::date::text END AS gone_on,
    (second.at AT TIME ZONE $1)::date::text AS second_on, second.figures AS second,
    back.day::text AS back_on, back.hours::float8 AS back_hours, back.cause, heard.hours::float8 AS heard_hours,
    EXISTS (SELECT 1 FROM job l WHERE l.crank_id = j.crank_id AND l.number > j.number AND (${IN_THE_HOUSE} OR ${HAS_A_KIT})) AS seen_again,
    (SELECT coalesce(sum(extract(epoch FROM c.stopped_at - c.started_at)), 0)::bigint::float8 FROM clock_entry c
      WHERE c.job_id = j.id AND c.stopped_at IS NOT NULL) AS bench_seconds,
    (SELECT (q.total_minor - q.tax_minor)::float8 FROM quote q WHERE q.job_id = j.id AND q.yes_at IS NOT NULL
      ORDER BY q.version DESC LIMIT 1) AS price_minor,
    ${OWES.sql}::float8 AS owes_minor
  FROM job j
  JOIN crank k ON k.id = j.crank_id
  LEFT JOIN LATERAL (SELECT f.kit_lot_id FROM kit_fitted f WHERE f.job_id = j.id AND f.struck_at IS NULL
    ORDER BY f.joint NULLS FIRST LIMIT 1) lot ON true
  LEFT JOIN job_step trued ON trued.job_id = j.id AND trued.step = 'trued' AND trued.undone_at IS NULL
  CROSS JOIN LATERAL (SELECT CASE WHEN j.state = 'gone' THEN j.gone_at WHEN j.state IN ('given-back', 'scrapped') THEN
    (SELECT s.at FROM job_step s WHERE s.job_id = j.id AND s.step = j.state AND s.undone_at IS NULL) END AS at) left_house
  LEFT JOIN LATERAL (
    SELECT m.figures, least(m.occurred_at, m.recorded_at) AS at FROM measurement m
    WHERE m.job_id = j.id AND m.kind = 'runout' AND m.phase = 'second' AND m.struck_at IS NULL AND m.not_read_because IS NULL
    ORDER BY m.occurred_at, m.recorded_at, m.id LIMIT 1) second ON true
  LEFT JOIN comeback back ON back.job_id = j.id AND back.struck_at IS NULL
  LEFT JOIN LATERAL (
    SELECT h.hours FROM follow_up h WHERE h.job_id = j.id AND h.struck_at IS NULL AND h.hours IS NOT NULL
    ORDER BY h.day DESC, h.recorded_at DESC, h.id DESC LIMIT 1) heard ON true
  WHERE j.crank_id IN (SELECT crank_id FROM job WHERE id = ANY ($2::uuid[]))`

/** Columns of office_job with their types, in the order of the table. */
const COLUMNS: Readonly<Record<keyof Fact, string>> = {
  job_id: 'uuid',
  number: 'int',
  kind: 'text',
  engine_id: 'uuid',
  lot_id: 'uuid',
  trued_by: 'uuid',
  booked_on: 'date',
  out_on: 'date',
  gone_on: 'date',
  checked_on: 'date',
  first_within: 'boolean',
  back_on: 'date',
  back_hours: 'numeric',
  cause: 'text',
  came_back: 'boolean',
  heard_hours: 'numeric',
  still_out: 'boolean',
  bench_seconds: 'bigint',
  price_minor: 'bigint',
  owes_minor: 'bigint',
}
const NAMES = Object.keys(COLUMNS).join(', ')

/** $1 the rows as JSON: kept, and what they count in less what they counted in before added to the sums. */
const KEEP = `
  WITH fresh AS (SELECT ${NAMES} FROM jsonb_to_recordset($1::jsonb)
      AS r (${Object.entries(COLUMNS)
        .map(([name, type]) => `${name} ${type}`)
        .join(', ')})),
    f AS (SELECT 1 AS sign, ${NAMES} FROM fresh
      UNION ALL SELECT -1, ${NAMES} FROM office_job WHERE job_id IN (SELECT job_id FROM fresh)),
    change AS (SELECT c.figure, c."by", c.stretch, c.key, c."at", sum(f.sign) AS n, sum(f.sign * c.hit) AS hits,
        sum(f.sign * c.amount) AS amount, sum(f.sign * c.minor) AS minor
      FROM f CROSS JOIN LATERAL ${COUNTED_IN} WHERE c.counts GROUP BY 1, 2, 3, 4, 5),
    kept AS (INSERT INTO office_job (${NAMES}) SELECT ${NAMES} FROM fresh
      ON CONFLICT (job_id) DO UPDATE SET ${Object.keys(COLUMNS)
        .filter((name) => name !== 'job_id')
        .map((name) => `${name} = excluded.${name}`)
        .join(', ')}
      WHERE office_job.* IS DISTINCT FROM excluded.*)
  INSERT INTO office_sum AS s (figure, "by", stretch, key, "at", n, hits, amount, minor)
  SELECT figure, "by", stretch, key, "at", n, hits, amount, minor FROM change WHERE n <> 0 OR hits <> 0 OR amount <> 0 OR minor <> 0
  ON CONFLICT (figure, "by", stretch, key, "at") DO UPDATE
  SET n = s.n + excluded.n, hits = s.hits + excluded.hits, amount = s.amount + excluded.amount, minor = s.minor + excluded.minor`
