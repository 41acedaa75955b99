import type { z } from 'zod'
import type { kitModel, kitModelNew, kitOfJob } from '#contract/kits.ts'
import type { Joint } from '#core/crank-build.ts'
import { Prisma } from '#prisma/client/client.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'

export type KitModel = z.infer<typeof kitModel>
export type KitOfJob = z.infer<typeof kitOfJob>

const MOST = 500

interface Row {
  id: string
  maker: string
  part: string
  engineId: string | null
  lots: KitModel['lots'] | null
}

/** Fitted: cranks that have a kit of this lot now. */
const MODELS = Prisma.sql`
  SELECT k.id, k.maker, k.part, k.engine_id AS "engineId",
    (SELECT json_agg(json_build_object('id', l.id, 'lot', l.lot, 'fitted',
       (SELECT count(DISTINCT f.job_id) FROM kit_fitted f WHERE f.kit_lot_id = l.id AND f.struck_at IS NULL)) ORDER BY l.lot)
     FROM kit_lot l WHERE l.kit_model_id = k.id) AS lots
  FROM kit_model k`

function asModel({ engineId, lots, ...row }: Row): KitModel {
  return { ...row, ...(engineId === null ? {} : { engineId }), lots: lots ?? [] }
}

/** Kit models by maker and part, of one engine or with this text in maker, part or lot. */
export async function listKits(db: Db, asked: { engineId?: string | undefined; q?: string | undefined }): Promise<KitModel[]> {
  const engineId = asked.engineId ?? null
  const like = `%${(asked.q ?? '').trim().replace(/[\\%_]/g, '\\$&')}%`
  const rows = await db.prisma.$queryRaw<Row[]>`
    ${MODELS} WHERE (${engineId}::uuid IS NULL OR k.engine_id = ${engineId}::uuid)
      AND (k.maker || ' ' || k.part ILIKE ${like} OR EXISTS (SELECT 1 FROM kit_lot l WHERE l.kit_model_id = k.id AND l.lot ILIKE ${like}))
    ORDER BY k.maker, k.part LIMIT ${MOST}`
  return rows.map(asModel)
}

export async function readKit(db: Tx | Db['prisma'], id: string): Promise<KitModel | null> {
  const [row] = await db.$queryRaw<Row[]>`${MODELS} WHERE k.id = ${id}::uuid`
  return row === undefined ? null : asModel(row)
}

export async function findModel(tx: Tx, named: { maker: string; part: string }): Promise<{ id: string } | null> {
  return tx.kitModel.findUnique({ where: { maker_part: named }, select: { id: true } })
}

export async function addModel(act: Act, model: z.infer<typeof kitModelNew>): Promise<string> {
  const { id, engineId, maker, part } = model
  const made = await act.tx.kitModel.create({
    data: { maker, part, engineId: engineId ?? null, ...(id === undefined ? {} : { id }) },
    select: { id: true },
  })
  return made.id
}

/** The model of this maker and part, added when it is seen for the first time; two hands may name a new one at once. */
export async function modelOf(act: Act, named: { maker: string; part: string; engineId: string }): Promise<string> {
  const { maker, part, engineId } = named
  await act.tx.kitModel.createMany({ data: [{ maker, part, engineId }], skipDuplicates: true })
  return (await act.tx.kitModel.findUniqueOrThrow({ where: { maker_part: { maker, part } }, select: { id: true } })).id
}

/** The lot of a model, added when it is seen for the first time. */
export async function lotOf(act: Act, kitModelId: string, lot: string): Promise<string> {
  await act.tx.kitLot.createMany({ data: [{ kitModelId, lot }], skipDuplicates: true })
  return (await act.tx.kitLot.findUniqueOrThrow({ where: { kitModelId_lot: { kitModelId, lot } }, select: { id: true } })).id
}

/** The kit that is named now for the job aliased j, for all its throws, a KitOfJob; null where none is. */
export const KIT_NAMED = Prisma.sql`(SELECT json_build_object('maker', k.maker, 'part', k.part, 'lot', l.lot, 'whose', f.whose)
  FROM kit_fitted f JOIN kit_lot l ON l.id = f.kit_lot_id JOIN kit_model k ON k.id = l.kit_model_id
  WHERE f.job_id = j.id AND f.joint IS NULL AND f.struck_at IS NULL)`

/** Kits that are named now for one throw alone of the job aliased j, by that joint; null where none is. */
export const KITS_OF_JOINTS = Prisma.sql`(SELECT json_object_agg(f.joint, json_build_object('maker', k.maker, 'part', k.part, 'lot', l.lot, 'whose', f.whose))
  FROM kit_fitted f JOIN kit_lot l ON l.id = f.kit_lot_id JOIN kit_model k ON k.id = l.kit_model_id
  WHERE f.job_id = j.id AND f.joint IS NOT NULL AND f.struck_at IS NULL)`

/** Names the kit of a job, or of one throw; an earlier naming stays in the book, struck out. */
export async function nameKit(
  act: Act,
  fitted: { id?: string | undefined; jobId: string; joint: Joint | null; kitLotId: string; whose: string; at: Date },
): Promise<void> {
  const { id, ...columns } = fitted
  await act.tx.kitFitted.updateMany({
    where: { jobId: fitted.jobId, joint: fitted.joint, struckAt: null },
    data: { struckAt: act.now, struckBecause: 'Another kit was named.' },
  })
  await act.tx.kitFitted.create({ data: { ...columns, personId: act.by.id, ...(id === undefined ? {} : { id }) }, select: { id: true } })
}
