/** Opens a backup and looks at every byte of it before anything is done with it. */
import { createHash } from 'node:crypto'
import { type FileHandle, open } from 'node:fs/promises'
import { promisify } from 'node:util'
import { gunzip } from 'node:zlib'
import { type FileMark, FORM, type Manifest, manifest as manifestShape } from './manifest.ts'
import { type Entry, entriesOf, looksSealed, SEAL_BYTES, sealOf, TarFault, whole } from './tar.ts'
import { BackupTrouble } from './trouble.ts'
import { READ_ME, READ_ME_LINE } from './write.ts'

export interface BackupFile {
  place: string
  bytes: number
  manifest: Manifest
  /** The entries once more, from the first. */
  entries(): AsyncGenerator<Entry>
  close(): Promise<void>
}

const NOTHING_DONE = 'Nothing was changed.'
const opened = promisify(gunzip)
// A part holds 4 MiB and at most one row more; what unpacks to more than this is none of ours.
const PART_MOST = 256 * 1024 * 1024

/** Refuses, in words, what is no backup, of a later form, cut short, or not byte for byte what was written. */
export async function openBackup(place: string): Promise<BackupFile> {
  const file = await open(place, 'r').catch((error: NodeJS.ErrnoException) => {
    throw new BackupTrouble(
      error.code === 'ENOENT' ? `There is no file ${place}. ${NOTHING_DONE}` : `${place} cannot be read: ${error.message}. ${NOTHING_DONE}`,
    )
  })
  try {
    const { size } = await file.stat()
    await mustBeOurs(file, place)
    const end = await readAt(file, Math.max(0, size - SEAL_BYTES), SEAL_BYTES)
    if (!looksSealed(end))
      throw new BackupTrouble(
        `${place} is cut short: its end is missing, so it was not wholly written or not wholly copied. ${NOTHING_DONE}`,
      )
    const manifest = await lookThrough(file, place, size - SEAL_BYTES, end)
    return {
      place,
      bytes: size,
      manifest,
      entries: () => entriesOf((at, bytes) => readAt(file, at, bytes), size - SEAL_BYTES),
      close: () => file.close(),
    }
  } catch (error) {
    await file.close()
    throw error
  }
}

async function readAt(file: FileHandle, at: number, bytes: number): Promise<Buffer> {
  const buffer = Buffer.alloc(bytes)
  let got = 0
  while (got < bytes) {
    const { bytesRead } = await file.read(buffer, got, bytes - got, at + got)
    if (bytesRead === 0) break
    got += bytesRead
  }
  return buffer.subarray(0, got)
}

async function mustBeOurs(file: FileHandle, place: string): Promise<void> {
  const start = await readAt(file, 0, 1024)
  const line = start.toString('utf8', 512).split('\n', 1)[0] ?? ''
  if (start.toString('latin1', 0, READ_ME.length) !== READ_ME || !line.startsWith('Throwbook backup, form '))
    throw new BackupTrouble(`${place} is not a backup of a Throwbook, or its first bytes are damaged. ${NOTHING_DONE}`)
  if (line !== READ_ME_LINE)
    throw new BackupTrouble(
      `${place} says “${line}”; this build reads form ${FORM}. Put it back with the build that wrote it. ${NOTHING_DONE}`,
    )
}

interface Found {
  manifest: unknown
  tables: Map<string, { bytes: number; sha256: string }>
  files: Map<string, FileMark>
}

async function lookThrough(file: FileHandle, place: string, end: number, seal: Buffer): Promise<Manifest> {
  const hash = createHash('sha256')
  const damaged = (where: string) =>
    new BackupTrouble(`${place} is damaged: ${where}. It is not what was written; take another copy or another backup. ${NOTHING_DONE}`)
  let found: Found
  try {
    found = await contentOf(
      entriesOf(
        (at, bytes) => readAt(file, at, bytes),
        end,
        (bytes) => hash.update(bytes),
      ),
    )
  } catch (error) {
    throw isUnreadable(error) ? damaged((error as Error).message) : error
  }
  if (!sealOf(hash.digest('hex')).equals(seal)) throw damaged('its bytes do not have the SHA-256 that it was sealed with')
  const read = manifestShape.safeParse(found.manifest)
  if (!read.success) throw damaged('its manifest is not one')
  const missing = missingFrom(read.data, found)
  if (missing.length > 0)
    throw new BackupTrouble(
      `${place} does not hold what its manifest names: ${missing.slice(0, 3).join(', ')}${missing.length > 3 ? ` and ${missing.length - 3} more` : ''}. ${NOTHING_DONE}`,
    )
  return read.data
}

/** Damage shows as an entry that is none, a part that does not unpack, or a manifest that does not parse. */
function isUnreadable(error: unknown): boolean {
  const code = String((error as NodeJS.ErrnoException).code ?? '')
  return error instanceof TarFault || error instanceof SyntaxError || code.startsWith('Z_') || code === 'ERR_BUFFER_TOO_LARGE'
}

const TABLE_PART = /^tables\/([^/]+)\/\d+\.copy\.gz$/

/** The name of the table that an entry is a part of. */
export function tableOf(entry: { name: string }): string | undefined {
  return TABLE_PART.exec(entry.name)?.[1]
}

/** The name of the file that an entry holds. */
export function fileOf(entry: { name: string }): string | undefined {
  return entry.name.startsWith('files/') ? entry.name.slice('files/'.length) : undefined
}

/** Rows of one part of a table. */
export async function rowsOfPart(entry: Entry): Promise<Buffer> {
  return (await opened(await whole(entry), { maxOutputLength: PART_MOST })) as Buffer
}

async function contentOf(entries: AsyncIterable<Entry>): Promise<Found> {
  const found: Found = { manifest: undefined, tables: new Map(), files: new Map() }
  const hashes = new Map<string, { hash: ReturnType<typeof createHash>; bytes: number }>()
  for await (const entry of entries) {
    const table = tableOf(entry)
    const file = fileOf(entry)
    if (table !== undefined) {
      const known = hashes.get(table) ?? { hash: createHash('sha256'), bytes: 0 }
      const rows = await rowsOfPart(entry)
      known.hash.update(rows)
      known.bytes += rows.length
      hashes.set(table, known)
    } else if (file !== undefined) {
      const hash = createHash('sha256')
      for await (const chunk of entry.content) hash.update(chunk)
      found.files.set(file, { path: file, bytes: entry.bytes, sha256: hash.digest('hex') })
    } else if (entry.name === 'manifest.json') {
      found.manifest = JSON.parse((await whole(entry)).toString('utf8'))
    }
  }
  for (const [name, { hash, bytes }] of hashes) found.tables.set(name, { bytes, sha256: hash.digest('hex') })
  return found
}

/** What the manifest names and the file does not hold, or holds otherwise. */
function missingFrom(manifest: Manifest, found: Found): string[] {
  const tables = manifest.tables.filter((mark) => {
    const there = found.tables.get(mark.name)
    return there?.sha256 !== mark.sha256 || there.bytes !== mark.bytes
  })
  const files = manifest.files.filter((mark) => {
    const there = found.files.get(mark.path)
    return there?.sha256 !== mark.sha256 || there.bytes !== mark.bytes
  })
  return [...tables.map((mark) => `the table ${mark.name}`), ...files.map((mark) => `the file ${mark.path}`)]
}
