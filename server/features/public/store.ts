import type { Db } from '#server/plugins/database.ts'

/** The job that a secret link opens; null where the link is unknown or ended. */
export async function jobOfLink(db: Db, tokenHash: Uint8Array<ArrayBuffer>): Promise<string | null> {
  const row = await db.prisma.publicLink.findFirst({ where: { tokenHash, endedAt: null }, select: { jobId: true } })
  return row?.jobId ?? null
}

export interface ShownPhoto {
  id: string
  caption: string | null
  at: Date
}

export async function photosOf(db: Db, jobId: string): Promise<ShownPhoto[]> {
  return db.prisma.photo.findMany({
    where: { jobId, struckAt: null },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
    take: 60,
    select: { id: true, caption: true, at: true },
  })
}

/** The picture file of a photo of this job; null for another job's photo or one that was struck out. */
export async function photoFile(db: Db, jobId: string, photoId: string): Promise<string | null> {
  const row = await db.prisma.photo.findFirst({ where: { id: photoId, jobId, struckAt: null }, select: { sha256: true } })
  return row?.sha256 ?? null
}
