/**
 * Files of the book beside the database: photos and papers. A file is named by the SHA-256 of what is in it and never
 * altered. It lies on the disk, flushed, before the row that names it is written, so that no row is ever without its file.
 */
import { createHash } from 'node:crypto'
import { type FileHandle, mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises'
import path from 'node:path'
import { Problem } from './errors.ts'

export type FileKind = 'photos' | 'papers'

const SHA256 = /^[0-9a-f]{64}$/

export function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}

/** Where a file lies. Two figures of its name are its folder, so that no folder grows without end. */
function placeOf(files: string, kind: FileKind, sha256: string, ending: string): string {
  if (!SHA256.test(sha256)) throw new RangeError('a kept file is named by a SHA-256 in hex')
  return path.join(files, kind, sha256.slice(0, 2), `${sha256}.${ending}`)
}

/** Keeps bytes under a name made from a SHA-256: their own, or for something drawn from another file, that file's. */
export async function keepFile(files: string, kind: FileKind, sha256: string, ending: string, bytes: Uint8Array): Promise<void> {
  const place = placeOf(files, kind, sha256, ending)
  if (await lies(place, bytes.length)) return
  const folder = path.dirname(place)
  await mkdir(folder, { recursive: true })
  const written = `${place}.${process.pid}.${performance.now()}.part`
  try {
    await withFile(written, 'wx', async (file) => {
      await file.writeFile(bytes)
      await file.sync()
    })
    await rename(written, place)
  } catch (error) {
    await rm(written, { force: true })
    throw diskFull(error)
  }
  // Windows flushes the entry of a folder with its file and lets nobody open one.
  if (process.platform !== 'win32') for (const above of [folder, path.dirname(folder)]) await withFile(above, 'r', (file) => file.sync())
}

function diskFull(error: unknown): unknown {
  const code = (error as NodeJS.ErrnoException).code
  return code === 'ENOSPC' || code === 'EDQUOT'
    ? new Problem('read-only-mode', 'The disk of the book is full: the file was not kept. Everything before it is safe.', {}, 60)
    : error
}

/** The bytes of a kept file; null where it is not there. */
export async function readKept(files: string, kind: FileKind, sha256: string, ending: string): Promise<Buffer | null> {
  try {
    return await readFile(placeOf(files, kind, sha256, ending))
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null
    throw error
  }
}

async function lies(place: string, length: number): Promise<boolean> {
  try {
    return (await stat(place)).size === length
  } catch {
    return false
  }
}

async function withFile(place: string, flags: string, work: (file: FileHandle) => Promise<void>): Promise<void> {
  const file = await open(place, flags)
  try {
    await work(file)
  } finally {
    await file.close()
  }
}
