import type { RunoutFigures } from '#contract/runout-figures.ts'
import type { JobKind } from '#core/steps.ts'
import type { Db } from '#server/plugins/database.ts'

/** A job that this person called true, with what the learning line and the readiness figures need of it. */
export interface TruedJob {
  jobId: string
  tag: string
  engine: string
  kind: JobKind
  isComeback: boolean
  signedAt: Date | null
  ownHours: number
  othersHours: number
  truingHours: number
  moves: number
  /** Figures of the builder's last set before the second reading, and of the second person's first set. */
  first: RunoutFigures | null
  second: RunoutFigures | null
}

/**
 * Hours are the bench-clock time between booked and trued, after corrections: an entry that crosses the moment it was
 * called true counts up to it.
 */
export async function jobsTruedBy(db: Db, personId: string, now: Date): Promise<TruedJob[]> {
  const { rows } = await db.pool.query<TruedJob>({
    name: 'jobs-trued-by',
    text: `
      SELECT j.id AS "jobId", j.tag, e.maker || ' ' || e.code AS engine, j.kind, j.comeback_of_id IS NOT NULL AS "isComeback",
        signed.at AS "signedAt", clock.own AS "ownHours", clock.others AS "othersHours", clock.truing AS "truingHours",
        (SELECT count(*)::int FROM truing_move m WHERE m.job_id = j.id AND m.action IN ('strike', 'squeeze', 'wedge')) AS moves,
        first_set.figures AS first, second_set.figures AS second
      FROM job_step trued
      JOIN job j ON j.id = trued.job_id
      JOIN crank c ON c.id = j.crank_id
      JOIN engine e ON e.id = c.engine_id
      LEFT JOIN job_step signed ON signed.job_id = j.id AND signed.step = 'signed' AND signed.undone_at IS NULL
      LEFT JOIN LATERAL (
        SELECT figures, occurred_at FROM measurement
        WHERE job_id = j.id AND kind = 'runout' AND phase = 'second' AND struck_at IS NULL AND not_read_because IS NULL
        ORDER BY occurred_at LIMIT 1) second_set ON true
      LEFT JOIN LATERAL (
        SELECT figures FROM measurement
        WHERE job_id = j.id AND kind = 'runout' AND phase IN ('building', 'built') AND joint IS NULL AND struck_at IS NULL AND not_read_because IS NULL
          AND occurred_at <= second_set.occurred_at
        ORDER BY occurred_at DESC LIMIT 1) first_set ON true
      CROSS JOIN LATERAL (
        SELECT coalesce(sum(worked) FILTER (WHERE person_id = $1), 0)::float8 AS own,
          coalesce(sum(worked) FILTER (WHERE person_id <> $1), 0)::float8 AS others,
          coalesce(sum(worked) FILTER (WHERE work = 'truing'), 0)::float8 AS truing
        FROM (
          SELECT person_id, work, extract(epoch FROM least(coalesce(stopped_at, $2), trued.at) - started_at) / 3600 AS worked
          FROM clock_entry WHERE job_id = j.id AND started_at < trued.at) AS entries) clock
      WHERE trued.step = 'trued' AND trued.undone_at IS NULL AND trued.person_id = $1
      ORDER BY signed.at NULLS LAST, j.id`,
    values: [personId, now],
  })
  return rows
}
