import type { z } from 'zod'
import type { photo } from '#contract/photos.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'

export type Photo = z.infer<typeof photo>

const COLUMNS = { id: true, step: true, caption: true, width: true, height: true, personId: true, at: true } as const

interface Row {
  id: string
  step: string
  caption: string | null
  width: number
  height: number
  at: Date
  by: string
}

function asPhoto({ caption, at, ...row }: Row): Photo {
  return { ...row, ...(caption === null ? {} : { caption }), at: at.toISOString() }
}

/** Photos of a job that stand, in the order they were taken; null where there is no such job. */
export async function listPhotos(db: Db, jobId: string): Promise<Photo[] | null> {
  const rows = await db.prisma.$queryRaw<(Row | { id: null })[]>`
    SELECT f.id, f.step, f.caption, f.width, f.height, f.at, p.name AS by
    FROM job j LEFT JOIN photo f ON f.job_id = j.id AND f.struck_at IS NULL LEFT JOIN person p ON p.id = f.person_id
    WHERE j.id = ${jobId}::uuid ORDER BY f.at, f.id`
  if (rows.length === 0) return null
  return rows.filter((row): row is Row => row.id !== null).map(asPhoto)
}

export async function countPhotos(tx: Tx, jobId: string): Promise<number> {
  return tx.photo.count({ where: { jobId, struckAt: null } })
}

/** The same picture of the same job, where it is there already. */
export async function samePhoto(tx: Tx, jobId: string, sha256: string): Promise<Photo | null> {
  const row = await tx.photo.findFirst({ where: { jobId, sha256, struckAt: null }, select: COLUMNS })
  if (!row) return null
  const { personId, ...rest } = row
  const person = await tx.person.findUnique({ where: { id: personId }, select: { name: true } })
  return asPhoto({ ...rest, by: person?.name ?? '' })
}

export interface PhotoColumns {
  jobId: string
  step: string
  caption: string | null
  sha256: string
  bytes: number
  width: number
  height: number
  at: Date
}

export async function addPhotoRow(act: Act, { id, ...columns }: PhotoColumns & { id: string | undefined }): Promise<Photo> {
  const { personId: _own, ...row } = await act.tx.photo.create({
    data: { ...columns, personId: act.by.id, ...(id === undefined ? {} : { id }) },
    select: COLUMNS,
  })
  return asPhoto({ ...row, by: act.by.name })
}

/** A photo that stands; null where there is none or it was struck out. */
export async function findPhoto(
  db: Tx | Db['prisma'],
  id: string,
): Promise<{ sha256: string; jobId: string; caption: string | null } | null> {
  return db.photo.findFirst({ where: { id, struckAt: null }, select: { sha256: true, jobId: true, caption: true } })
}

export async function strikePhotoRow(act: Act, id: string): Promise<boolean> {
  const { count } = await act.tx.photo.updateMany({ where: { id, struckAt: null }, data: { struckAt: act.now } })
  return count === 1
}
