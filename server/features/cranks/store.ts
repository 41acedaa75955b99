import type { z } from 'zod'
import type { crankHit } from '#contract/cranks.ts'
import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import type { JobOfCrank, Renewal } from '#core/bench/web-fits.ts'
import { type CrankBuild, type Joint, throwsOf } from '#core/crank-build.ts'
import { findWords, foldForFind } from '#core/find-text.ts'
import { RENEWS_THE_WEB } from '#core/fit-stop.ts'
import type { Side } from '#core/runout-verdict.ts'
import { Prisma } from '#prisma/client/client.ts'
import { standingFiguresOf } from '#server/features/engines/store.ts'
import { FIT_STOP, type JsonPressing, PRESSINGS_OF_JOB, pressingsFrom } from '#server/features/pressings/store.ts'
import { type JsonSet, SETS_OF_JOB, setsFrom } from '#server/features/readings/store.ts'
import { SHOP_SETTINGS, settingsFrom } from '#server/features/settings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'

export type CrankHit = z.infer<typeof crankHit>

const HITS_MOST = 20

export interface CrankColumns {
  engineId: string
  customerId: string
  engineNumber: string | null
  marks: string | null
  welded: boolean
  pressedBefore: number
}

function findTextOf(columns: { engineNumber: string | null; marks: string | null }): string {
  return [columns.engineNumber ?? '', columns.marks ?? ''].map(foldForFind).join(' ').trim()
}

export async function addCrank(act: Act, columns: CrankColumns): Promise<string> {
  const id = act.newId()
  const { engineId, customerId, engineNumber, marks, welded, pressedBefore } = columns
  await ask(
    act.tx,
    Prisma.sql`INSERT INTO crank (id, engine_id, customer_id, engine_number, marks, welded, pressed_before, find_text, created_at)
      VALUES (${id}::uuid, ${engineId}::uuid, ${customerId}::uuid, ${engineNumber}, ${marks}, ${welded}, ${pressedBefore}, ${findTextOf(columns)}, ${act.now})`,
  )
  return id
}

/** A crank that has been here, locked until the end of the act. */
export async function lockCrank(tx: Tx, id: string): Promise<{ id: string; engineId: string; customerId: string } | null> {
  const [row] = await tx.$queryRaw<{ id: string; engineId: string; customerId: string }[]>`
    SELECT id, engine_id AS "engineId", customer_id AS "customerId" FROM crank WHERE id = ${id}::uuid FOR UPDATE`
  return row ?? null
}

export async function changeOwner(act: Act, id: string, customerId: string): Promise<void> {
  await act.tx.crank.update({ where: { id }, data: { customerId, version: { increment: 1 } }, select: { id: true } })
}

interface HitRow extends Omit<CrankHit, 'engineNumber' | 'jobs'> {
  engineNumber: string | null
  jobs: (Omit<CrankHit['jobs'][number], 'kit' | 'certificate'> & { kit: string | null; certificate: string | null })[] | null
}

/** Cranks known by number or by customer (theirs, and those that they brought), each with the jobs it was here for; the best match of the number first. */
export async function findCranks(db: Db, asked: { number?: string | undefined; customerId?: string | undefined }): Promise<CrankHit[]> {
  const words = findWords(asked.number ?? '')
  if (words.length === 0 && asked.customerId === undefined) return []
  const rows = await db.prisma.$queryRaw<HitRow[]>`
    SELECT k.id, k.engine_id AS "engineId", e.maker || ' ' || e.code AS engine, k.engine_number AS "engineNumber",
      k.customer_id AS "customerId", c.name AS whose, k.welded,
      (SELECT json_agg(json_build_object('id', j.id, 'tag', j.tag, 'bookedAt', j.booked_at, 'state', j.state,
         'kit', (SELECT m.maker || ' ' || m.part || ', lot ' || l.lot FROM kit_fitted f JOIN kit_lot l ON l.id = f.kit_lot_id
                 JOIN kit_model m ON m.id = l.kit_model_id WHERE f.job_id = j.id AND f.struck_at IS NULL LIMIT 1),
         'certificate', (SELECT s.number::text FROM certificate s LEFT JOIN certificate_void v ON v.certificate_id = s.id
                         WHERE s.job_id = j.id AND v.certificate_id IS NULL ORDER BY s.number DESC LIMIT 1))
         ORDER BY j.number DESC) FROM job j WHERE j.crank_id = k.id) AS jobs
    FROM crank k JOIN engine e ON e.id = k.engine_id JOIN customer c ON c.id = k.customer_id
    WHERE k.find_text LIKE ALL (${words.map((word) => `%${word}%`)}::text[])
      AND (${asked.customerId ?? null}::uuid IS NULL OR k.customer_id = ${asked.customerId ?? null}::uuid
        OR k.id IN (SELECT theirs.crank_id FROM job theirs WHERE theirs.customer_id = ${asked.customerId ?? null}::uuid))
    ORDER BY (k.find_text = ${words.join(' ')}) DESC, (SELECT max(j.booked_at) FROM job j WHERE j.crank_id = k.id) DESC NULLS LAST, k.id
    LIMIT ${HITS_MOST}`
  return rows.map(({ engineNumber, jobs, ...row }) => ({
    ...row,
    ...(engineNumber === null ? {} : { engineNumber }),
    jobs: (jobs ?? []).map(({ kit, certificate, bookedAt, ...job }) => ({
      ...job,
      bookedAt: new Date(bookedAt).toISOString(),
      ...(kit === null ? {} : { kit }),
      ...(certificate === null ? {} : { certificate }),
    })),
  }))
}

/** A crank with all that our jobs measured and pressed on it, oldest job first. */
export interface CrankWithJobs {
  id: string
  engine: string
  engineId: string
  engineNumber: string | null
  marks: string | null
  welded: boolean
  pressedBefore: number
  sheet: EngineSheet
  scrapShare: number
  /** The throw that is looked at, of a crank with several, and all of them. */
  joint: Joint | undefined
  throws: readonly Joint[]
  jobs: JobOfCrank[]
  /** Since when each web is another one; absent where it never changed. */
  renewed: Partial<Record<Side, Renewal>>
}

interface LivesRow extends Omit<CrankWithJobs, 'sheet' | 'scrapShare' | 'joint' | 'throws' | 'jobs' | 'renewed'> {
  build: CrankBuild | null
  sheet: EngineSheet | null
  shopSettings: unknown
  jobs: { id: string; tag: string; sets: JsonSet[] | null; pressings: JsonPressing[] | null }[] | null
  renewals: { side: Side; joint: Joint | null; jobId: string; at: string }[] | null
}

/** Of one throw where the crank has several: the one asked for, or the first. */
export async function readLivesOfWebs(db: Tx | Db['prisma'], crankId: string, asked: Joint | undefined): Promise<CrankWithJobs | null> {
  const [row] = await ask<LivesRow>(
    db,
    Prisma.sql`
    SELECT k.id, e.maker || ' ' || e.code AS engine, k.engine_id AS "engineId", k.engine_number AS "engineNumber", k.marks, k.welded,
      k.pressed_before AS "pressedBefore", e.build, ${standingFiguresOf(Prisma.sql`k.engine_id`)} AS sheet, ${SHOP_SETTINGS} AS "shopSettings",
      (SELECT json_agg(json_build_object('id', j.id, 'tag', j.tag, 'sets', ${SETS_OF_JOB}, 'pressings', ${PRESSINGS_OF_JOB}) ORDER BY j.number)
       FROM job j WHERE j.crank_id = k.id) AS jobs,
      (SELECT json_agg(json_build_object('side', v.data->>'side', 'joint', v.data->>'joint', 'jobId', v.job_id, 'at', v.occurred_at) ORDER BY v.seq)
       FROM job_event v JOIN job j ON j.id = v.job_id
       WHERE j.crank_id = k.id AND v.kind = ${FIT_STOP} AND v.data->>'choice' = ANY(${[...RENEWS_THE_WEB]}::text[])) AS renewals
    FROM crank k JOIN engine e ON e.id = k.engine_id WHERE k.id = ${crankId}::uuid`,
  )
  if (row === undefined) return null
  const { shopSettings, sheet, build, jobs, renewals, ...crank } = row
  const throws = throwsOf(build)
  const joint = throws.find((one) => one === asked) ?? throws[0]
  const isHere = (one: { joint?: Joint }) => one.joint === joint
  return {
    ...crank,
    sheet: sheet ?? {},
    scrapShare: settingsFrom(shopSettings).scrapFloorFactor,
    joint,
    throws,
    jobs: (jobs ?? []).map(({ id, tag, sets, pressings }) => ({
      id,
      tag,
      sets: setsFrom(sets).flatMap(({ set }) => (isHere(set) ? [set] : [])),
      pressings: pressingsFrom(pressings).flatMap(({ done }) => (isHere(done) ? [done] : [])),
    })),
    // Of two of one web the later counts.
    renewed: Object.fromEntries(
      (renewals ?? [])
        .filter((one) => (one.joint ?? undefined) === joint)
        .map(({ side, jobId, at }) => [side, { jobId, at: new Date(at).toISOString() }]),
    ),
  }
}
