import type { z } from 'zod'
import type { crankHit } from '#contract/jobs.ts'
import { findWords, foldForFind } from '#core/find-text.ts'
import { Prisma } from '#prisma/client/client.ts'
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
