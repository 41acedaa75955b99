import type { Proof } from '#contract/proofs.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import { Problem } from '#server/plugins/errors.ts'

const COLUMNS = {
  id: true,
  kind: true,
  startedAt: true,
  endedAt: true,
  held: true,
  says: true,
  file: true,
  bytes: true,
  rows: true,
  auditSeq: true,
} as const

interface Row {
  id: string
  kind: string
  startedAt: Date
  endedAt: Date | null
  held: boolean | null
  says: string | null
  file: string | null
  bytes: bigint | null
  rows: bigint | null
  auditSeq: bigint | null
}

function asProof({ id, kind, startedAt, endedAt, held, says, file, bytes, rows, auditSeq }: Row): Proof {
  return {
    id,
    kind: kind as Proof['kind'],
    startedAt: startedAt.toISOString(),
    ...(endedAt === null ? {} : { endedAt: endedAt.toISOString() }),
    ...(held === null ? {} : { held }),
    ...(says === null ? {} : { says }),
    ...(file === null ? {} : { file }),
    ...(bytes === null ? {} : { bytes: Number(bytes) }),
    ...(rows === null ? {} : { rows: Number(rows) }),
    ...(auditSeq === null ? {} : { auditSeq: Number(auditSeq) }),
  }
}

const LATEST = [{ startedAt: 'desc' }, { id: 'desc' }] as const

export async function listProofs(db: Db['prisma'], most: number): Promise<Proof[]> {
  return (await db.proof.findMany({ select: COLUMNS, orderBy: [...LATEST], take: most })).map(asProof)
}

export async function lastHeldDrill(db: Db['prisma']): Promise<Proof | null> {
  const row = await db.proof.findFirst({ where: { kind: 'drill', held: true }, select: COLUMNS, orderBy: [...LATEST] })
  return row && asProof(row)
}

/** The drill that has not ended and was begun or asked for since then. */
export async function openDrill(db: Tx | Db['prisma'], since: Date): Promise<Proof | null> {
  const row = await db.proof.findFirst({
    where: { kind: 'drill', endedAt: null, startedAt: { gte: since } },
    select: COLUMNS,
    orderBy: [...LATEST],
  })
  return row && asProof(row)
}

export async function anyDrillSince(db: Db['prisma'], at: Date): Promise<boolean> {
  return (await db.proof.findFirst({ where: { kind: 'drill', startedAt: { gte: at } }, select: { id: true } })) !== null
}

/** Names of the backups that were put back for trial and held. */
export async function heldFiles(db: Db['prisma']): Promise<string[]> {
  const rows = await db.proof.findMany({
    where: { kind: 'drill', held: true, file: { not: null } },
    select: { file: true },
    orderBy: [...LATEST],
    take: 1000,
  })
  return rows.flatMap((row) => row.file ?? [])
}

/** Begins a drill, or takes one up that was asked for or cut off; false where it has ended already. */
export async function beginDrill(db: Tx | Db['prisma'], id: string, startedAt: Date): Promise<boolean> {
  const row = await db.proof.upsert({ where: { id }, create: { id, kind: 'drill', startedAt }, update: {}, select: { endedAt: true } })
  return row.endedAt === null
}

export interface Outcome {
  endedAt: Date
  held: boolean
  says: string
  file?: string
  bytes?: number
  rows?: number
  auditSeq?: number
}

export async function endDrill(db: Db['prisma'], id: string, outcome: Outcome): Promise<Proof> {
  return asProof(await db.proof.update({ where: { id }, data: outcome, select: COLUMNS }))
}

export async function noteBackup(db: Db['prisma'], startedAt: Date, outcome: Outcome): Promise<void> {
  await db.proof.create({ data: { kind: 'backup', startedAt, ...outcome }, select: { id: true } })
}

/** A drill that somebody asks for; it begins when the background work comes to it. */
export async function addDrill(tx: Tx, askedAt: Date): Promise<Proof> {
  return asProof(await tx.proof.create({ data: { kind: 'drill', startedAt: askedAt }, select: COLUMNS }))
}

/** Puts a job before the background work, in the same transaction as what it belongs to. */
export async function queueDrill(tx: Tx, id: string): Promise<void> {
  const [queue] = await tx.$queryRaw<{ there: boolean }[]>`SELECT to_regclass('graphile_worker.jobs') IS NOT NULL AS there`
  if (!queue?.there)
    throw new Problem('overloaded', 'No background work runs on this book. Start the server, or use npm run drill.', {}, 60)
  await tx.$queryRaw`SELECT graphile_worker.add_job('drill', json_build_object('id', ${id}::text), queue_name := 'proofs', max_attempts := 3,
    job_key := ${`drill ${id}`})::text AS job`
}

/** Whether anybody works with this book yet; before that there is nothing to prove. */
export async function anybodyYet(db: Db['prisma']): Promise<boolean> {
  return (await db.person.findFirst({ select: { id: true } })) !== null
}
