/** A drill: a backup is written, put back into a scratch database, compared, and what came of it is noted in the book. */
import { readdir, rm, stat } from 'node:fs/promises'
import path from 'node:path'
import type { Proof } from '#contract/proofs.ts'
import { type BackUp, type BackUpOptions, type BookAt, backUp, tryOut } from '#server/features/backups/store.ts'
import type { Db } from '#server/plugins/database.ts'
import { backupName, toDrop } from './backup-names.ts'
import { beginDrill, endDrill, heldFiles, noteBackup, type Outcome } from './store.ts'

export interface Proving {
  db: Db
  book: BookAt
  /** Folder of the backups. */
  folder: string
  clock: () => Date
  signal?: AbortSignal
  through?: BackUpOptions['through']
}

/** Answers null where this drill has ended before. Faults are not thrown but noted: they are what the office has to see. */
export async function prove(by: Proving, id: string): Promise<Proof | null> {
  const { db, clock } = by
  const startedAt = clock()
  if (!(await beginDrill(db.prisma, id, startedAt))) return null
  const written = await writeNight(by, startedAt)
  if (!written)
    return endDrill(db.prisma, id, { endedAt: clock(), held: false, says: 'No backup was written, so there was none to put back.' })
  const outcome = await putBackAndCompare(by, written)
  const proof = await endDrill(db.prisma, id, { endedAt: clock(), ...outcome })
  await dropOld(by)
  return proof
}

/** Noted as a backup of its own, whatever becomes of the drill. */
async function writeNight(by: Proving, startedAt: Date): Promise<BackUp | undefined> {
  const note = (outcome: Omit<Outcome, 'endedAt'>) => noteBackup(by.db.prisma, startedAt, { endedAt: by.clock(), ...outcome })
  try {
    const to = path.join(by.folder, backupName(by.book.name, startedAt, true))
    const written = await backUp(by.book, to, {
      now: startedAt,
      ...(by.signal && { signal: by.signal }),
      ...(by.through && { through: by.through }),
    })
    await note(backupOutcome(written))
    return written
  } catch (error) {
    by.signal?.throwIfAborted()
    await note({ held: false, says: (error as Error).message })
    return undefined
  }
}

/** What the book says about a backup that was written. */
export function backupOutcome({ file, bytes, rows, files, tables, auditSeq, lacking }: BackUp): Omit<Outcome, 'endedAt'> {
  const all = `${rows} rows of ${tables} tables and ${files} files are in it.`
  return { held: lacking === '', says: lacking === '' ? all : `${all} ${lacking}`, file, bytes, rows, auditSeq }
}

async function putBackAndCompare(by: Proving, written: BackUp): Promise<Omit<Outcome, 'endedAt'>> {
  const { file, bytes, rows, auditSeq, lacking } = written
  const about = { file, bytes, rows, auditSeq }
  try {
    await tryOut(by.book.url, path.join(by.folder, file), by.signal)
    const all = `Put back into a scratch database: ${rows} rows of ${written.tables} tables, ${written.files} files and the audit chain up to row ${auditSeq} are all there.`
    return { ...about, held: lacking === '', says: lacking === '' ? all : `${all} But ${lacking}` }
  } catch (error) {
    by.signal?.throwIfAborted()
    return { ...about, held: false, says: (error as Error).message }
  }
}

const A_DAY = 86_400_000
const HALF = /\.tbk\.[0-9a-f]{8}\.part$/

/** The night's backups that newer ones have made needless, and what a process that died left half written. */
async function dropOld({ db, book, folder, clock }: Proving): Promise<void> {
  const names = await readdir(folder)
  const gone = toDrop(names, book.name, new Set(await heldFiles(db.prisma)), clock())
  for (const name of names.filter((each) => HALF.test(each)))
    if ((await stat(path.join(folder, name))).mtimeMs < clock().getTime() - A_DAY) gone.push(name)
  for (const name of gone) await rm(path.join(folder, name), { force: true })
}
