/** Backups of a book: written, put back, tried out. What is in the file and in which order stands in prisma/book-file. */
import { readFileSync } from 'node:fs'
import { mkdir } from 'node:fs/promises'
import path from 'node:path'
import { keeperIn, lookingOnly } from '#prisma/book-file/kept-files.ts'
import { type Manifest, rowsOf } from '#prisma/book-file/manifest.ts'
import { openBackup } from '#prisma/book-file/read.ts'
import { mustBeReadable, restoreBackup } from '#prisma/book-file/restore.ts'
import { inScratch } from '#prisma/book-file/scratch.ts'
import { openForCopy } from '#prisma/book-file/shape.ts'
import { BackupTrouble } from '#prisma/book-file/trouble.ts'
import { isDiskFull, type Written, writeWhole } from '#prisma/book-file/whole-file.ts'
import { writeBackup } from '#prisma/book-file/write.ts'
import { clusterLies, runningClusterUrl, startCluster } from '#prisma/cluster.ts'
import { migrationList, prepareRoles } from '#prisma/migrate.ts'
import { OWN_DATABASE, ownDatabase } from '#server/plugins/database.ts'
import { claimFolder } from '#server/plugins/folder.ts'

const APP = (JSON.parse(readFileSync(path.resolve(import.meta.dirname, '../../../package.json'), 'utf8')) as { version: string }).version

/** A book as it lies somewhere: its database and its folder of files. */
export interface BookAt {
  name: string
  url: string
  files: string
}

export interface BackUp {
  file: string
  bytes: number
  rows: number
  files: number
  tables: number
  auditSeq: number
  /** Files that the book names and that are not in the backup as they should be, in words; empty where all is well. */
  lacking: string
}

export interface BackUpOptions {
  now: Date
  signal?: AbortSignal
  /** Stands between the backup and the disk. */
  through?: (file: Written) => Written
}

/** Writes a backup of the book to a place; what lies there before stays until the new one is whole. */
export async function backUp(book: BookAt, to: string, options: BackUpOptions): Promise<BackUp> {
  const folder = path.dirname(to)
  const client = await openForCopy(book.url)
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 })
    const source = { client, files: book.files, app: APP, book: book.name, now: options.now }
    const { manifest, bytes } = await writeWhole(to, (file) => writeBackup(source, file, options.signal), options.through)
    return {
      file: path.basename(to),
      bytes,
      rows: rowsOf(manifest),
      files: manifest.files.length,
      tables: manifest.tables.length,
      auditSeq: manifest.audit.seq,
      lacking: lackingInWords(manifest),
    }
  } catch (error) {
    if (!isDiskFull(error)) throw error
    throw new BackupTrouble(
      `The disk that holds ${folder} is full: no backup was written, and the ones before it are as they were. Make room there.`,
    )
  } finally {
    await client.end()
  }
}

function lackingInWords({ lacking }: Manifest): string {
  const some = (what: 'gone' | 'altered') => lacking.filter((each) => each.what === what).map((each) => each.path)
  const [gone, altered] = [some('gone'), some('altered')]
  const first = (paths: string[]) => `${paths.slice(0, 3).join(', ')}${paths.length > 3 ? ' and more' : ''}`
  return [
    ...(gone.length > 0 ? [`${gone.length} of the files that the book names are not on the disk: ${first(gone)}.`] : []),
    ...(altered.length > 0 ? [`${altered.length} files were altered on the disk: ${first(altered)}.`] : []),
  ].join(' ')
}

export interface Restored {
  book: string
  madeAt: string
  rows: number
  files: number
  auditSeq: number
  /** Changes that brought an older book to this build. */
  brought: string[]
  lacking: string
}

/** Puts a backup into an empty book, its database and its folder of files. */
export async function restoreInto(into: { url: string; files: string }, place: string): Promise<Restored> {
  const backup = await openBackup(place)
  try {
    const brought = await restoreBackup({ url: into.url, roles: await prepareRoles(into.url) }, backup, keeperIn(into.files))
    return { ...restoredOf(backup.manifest), brought }
  } finally {
    await backup.close()
  }
}

/** Puts a backup into a database made for it and thrown away after; its files are read and looked at, not kept. */
export async function tryOut(url: string, place: string, signal?: AbortSignal): Promise<Restored> {
  const backup = await openBackup(place)
  try {
    const brought = await inScratch(url, (into) => restoreBackup(into, backup, lookingOnly(), signal))
    return { ...restoredOf(backup.manifest), brought }
  } finally {
    await backup.close()
  }
}

function restoredOf(manifest: Manifest): Omit<Restored, 'brought'> {
  const { book, madeAt, files, audit } = manifest
  return { book, madeAt, rows: rowsOf(manifest), files: files.length, auditSeq: audit.seq, lacking: lackingInWords(manifest) }
}

/** Refuses what restoreInto would refuse without a look at any database. */
export async function mustBeWhole(place: string): Promise<void> {
  const backup = await openBackup(place)
  await backup.close()
  mustBeReadable(backup.manifest, migrationList())
}

/** Notes a backup in the book that it was made of, where that book has a place for it. */
export async function noteWritten(url: string, startedAt: Date, { file, bytes, rows, auditSeq, lacking }: BackUp): Promise<void> {
  const client = await openForCopy(url)
  try {
    const known = await client.query<{ there: boolean }>(`SELECT to_regclass('public.proof') IS NOT NULL AS there`)
    if (!known.rows[0]?.there) return
    await client.query(
      `INSERT INTO proof (id, kind, started_at, ended_at, held, says, file, bytes, rows, audit_seq)
       VALUES (gen_random_uuid(), 'backup', $1, now(), $2, $3, $4, $5, $6, $7)`,
      [startedAt, lacking === '', lacking === '' ? 'Written by hand.' : lacking, file, bytes, rows, auditSeq],
    )
  } finally {
    await client.end()
  }
}

export interface Place {
  databaseUrl: string | undefined
  folder: string
}

export interface Reached {
  url: string
  close(): Promise<void>
}

/** The database of a book that may be open in a running server: that one's, else one started for this. */
export async function reachBook({ databaseUrl, folder }: Place): Promise<Reached> {
  if (databaseUrl !== undefined) return { url: databaseUrl, close: async () => {} }
  const cluster = path.join(folder, 'pg')
  if (!clusterLies(cluster)) throw new BackupTrouble(`There is no book in ${folder} yet.`)
  let free: () => void
  try {
    free = await claimFolder(folder)
  } catch (error) {
    const url = runningClusterUrl(cluster, OWN_DATABASE)
    if (url !== undefined) return { url, close: async () => {} }
    throw (error as Error).name === 'FolderTrouble'
      ? new BackupTrouble(`The book in ${folder} is being opened or closed by another process. Try again in a moment.`)
      : error
  }
  const started = await startCluster(cluster)
  return {
    url: started.url(OWN_DATABASE),
    close: async () => {
      await started.stop()
      free()
    },
  }
}

/** The database of a book that no server has open, made where there is none. */
export async function claimBook({ databaseUrl, folder }: Place): Promise<Reached> {
  if (databaseUrl !== undefined) return { url: databaseUrl, close: async () => {} }
  const free = await claimFolder(folder)
  const started = await startCluster(path.join(folder, 'pg'))
  return {
    url: await ownDatabase(started),
    close: async () => {
      await started.stop()
      free()
    },
  }
}
