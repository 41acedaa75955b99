/**
 * Writes a backup: every table as it stood at one instant (one REPEATABLE READ snapshot), then the files, of which there
 * may be more than the snapshot names, never fewer. Memory stays the same however large the book is, but for the list of
 * files in the manifest.
 */
import { promisify } from 'node:util'
import { gzip } from 'node:zlib'
import type pg from 'pg'
import { copyOut } from './copy.ts'
import { filesIn, filesNamed, lackingOf, readMarked } from './kept-files.ts'
import { type FileMark, FORM, type Manifest, type TableMark } from './manifest.ts'
import { auditHead, levelOf, sequencesOf, type Table, tablesOf } from './shape.ts'
import { type Sink, type TarWriter, tarWriter } from './tar.ts'
import { BackupTrouble } from './trouble.ts'

export interface Source {
  /** From openForCopy; nothing else goes on in it. */
  client: pg.ClientBase
  /** Folder of photos and papers. */
  files: string
  /** Version of this build. */
  app: string
  /** Name of the book. */
  book: string
  now: Date
}

const PART = 4 * 1024 * 1024
const squeezed = promisify(gzip)

export const READ_ME = 'READ-ME.txt'
export const READ_ME_LINE = `Throwbook backup, form ${FORM}`
const READ_ME_TEXT = `${READ_ME_LINE}

This is a plain tar of one book.
tables/<table>/0001.copy.gz …  rows in the text form of PostgreSQL's COPY, gzipped; joined in order they are the table
files/…                        photos and papers
manifest.json                  versions, and what every table, sequence and file must be
seal.sha256                    SHA-256 of every byte before it

To put it back into an empty book: npm run restore -- <this file>
`

export async function writeBackup(source: Source, sink: Sink, signal?: AbortSignal): Promise<{ manifest: Manifest; bytes: number }> {
  const { client } = source
  const tar = tarWriter(sink, source.now)
  await tar.add(READ_ME, Buffer.from(READ_ME_TEXT))
  await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY')
  try {
    const migrations = await levelOf(client)
    if (!migrations || migrations.length === 0) throw new BackupTrouble('There is no book in this database: nothing was ever opened here.')
    const tables: TableMark[] = []
    for (const table of await tablesOf(client)) {
      signal?.throwIfAborted()
      tables.push(await addTable(tar, client, table))
    }
    const audit = await auditHead(client)
    const named = await filesNamed(client)
    // Sequences stand outside of every snapshot; read last, they are at or past every number in it.
    const sequences = await sequencesOf(client)
    const postgres = await client.query<{ server_version: string }>('SHOW server_version')
    const files = await addFiles(tar, source.files, signal)
    const manifest: Manifest = {
      form: FORM,
      app: source.app,
      postgres: postgres.rows[0]?.server_version ?? '',
      book: source.book,
      madeAt: source.now.toISOString(),
      migrations,
      tables,
      sequences,
      audit,
      files,
      lacking: lackingOf(named, files),
    }
    await tar.add('manifest.json', Buffer.from(`${JSON.stringify(manifest, null, 1)}\n`))
    await tar.seal()
    return { manifest, bytes: tar.written() }
  } finally {
    await client.query('ROLLBACK').catch(() => {})
  }
}

async function addTable(tar: TarWriter, client: pg.ClientBase, table: Table): Promise<TableMark> {
  let waiting: Buffer[] = []
  let bytes = 0
  let part = 0
  const addPart = async () => {
    part++
    const content = await squeezed(Buffer.concat(waiting))
    waiting = []
    bytes = 0
    await tar.add(`tables/${table.name}/${String(part).padStart(4, '0')}.copy.gz`, content)
  }
  const mark = await copyOut(client, table, (chunk) => {
    waiting.push(chunk)
    bytes += chunk.length
    return bytes < PART ? undefined : addPart()
  })
  // An empty table has one empty part, so that every table is seen in the file.
  if (bytes > 0 || part === 0) await addPart()
  return mark
}

async function addFiles(tar: TarWriter, folder: string, signal?: AbortSignal): Promise<FileMark[]> {
  const marks: FileMark[] = []
  for (const name of await filesIn(folder)) {
    signal?.throwIfAborted()
    const { bytes, content, mark } = await readMarked(folder, name)
    await tar.addStream(`files/${name}`, bytes, content)
    marks.push(mark())
  }
  return marks
}
