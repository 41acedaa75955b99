/** Photos and papers beside the database: what lies in their folder, and what the book names. */
import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { mkdir, readdir, rm, stat } from 'node:fs/promises'
import path from 'node:path'
import type pg from 'pg'
import { type FileMark, fileMark, type Manifest } from './manifest.ts'
import { writeWhole } from './whole-file.ts'

/** Every kept file, by name; half-written ones are none. */
export async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return []
    throw error
  })
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)).split(path.sep).join('/'))
    .filter((name) => fileMark.shape.path.safeParse(name).success)
    .sort()
}

const NAMED = `
  SELECT format('photos/%s/%s.%s', left(sha256, 2), sha256, ending) AS path FROM photo, unnest(ARRAY['jpg', 'thumb.jpg']) AS ending
  UNION SELECT format('papers/%s/%s.pdf', left(sha256, 2), sha256) FROM certificate_paper
  ORDER BY path`

export async function filesNamed(client: pg.ClientBase): Promise<string[]> {
  const { rows } = await client.query<{ path: string }>(NAMED)
  return rows.map((row) => row.path)
}

/** A file carries the SHA-256 of its content as its name, but for one drawn from another, which carries that one's. */
export function isAltered({ path: name, sha256 }: FileMark): boolean {
  const [own, ...endings] = path.posix.basename(name).split('.')
  return endings.length === 1 && own !== sha256
}

/** The content of a kept file, and what it was once all of it has been read. */
export async function readMarked(
  folder: string,
  name: string,
): Promise<{ bytes: number; content: AsyncGenerator<Buffer>; mark(): FileMark }> {
  const place = path.join(folder, name)
  const { size } = await stat(place)
  const hash = createHash('sha256')
  const content = (async function* () {
    for await (const chunk of createReadStream(place) as AsyncIterable<Buffer>) {
      hash.update(chunk)
      yield chunk
    }
  })()
  return { bytes: size, content, mark: () => ({ path: name, bytes: size, sha256: hash.digest('hex') }) }
}

/** Where restored files go. */
export interface FileKeeper {
  /** Keeps one and answers what it was. */
  keep(name: string, content: AsyncIterable<Buffer>): Promise<FileMark>
  /** Takes away what was kept here and did not lie there before. */
  undo(): Promise<void>
}

/** Reads files and throws them away: for a drill, which wants to know whether they are whole. */
export function lookingOnly(): FileKeeper {
  return { keep: (name, content) => markOf(name, content), undo: async () => {} }
}

async function markOf(name: string, content: AsyncIterable<Buffer>, take?: (chunk: Buffer) => Promise<void>): Promise<FileMark> {
  const hash = createHash('sha256')
  let bytes = 0
  for await (const chunk of content) {
    hash.update(chunk)
    bytes += chunk.length
    await take?.(chunk)
  }
  return { path: name, bytes, sha256: hash.digest('hex') }
}

export function keeperIn(folder: string): FileKeeper {
  const made: string[] = []
  return {
    async keep(name, content) {
      const place = path.join(folder, name)
      const there = await stat(place).then(
        () => true,
        () => false,
      )
      const folderMade = await mkdir(path.dirname(place), { recursive: true })
      if (folderMade !== undefined) made.push(folderMade)
      const mark = await writeWhole(place, (file) => markOf(name, content, (chunk) => file.write(chunk)))
      if (!there) made.push(place)
      return mark
    },
    async undo() {
      for (const place of made.splice(0)) await rm(place, { recursive: true, force: true })
    },
  }
}

/** Files that the book names, seen from what was taken along. */
export function lackingOf(named: string[], taken: FileMark[]): Manifest['lacking'] {
  const there = new Set(taken.map((mark) => mark.path))
  const gone = named.filter((name) => !there.has(name)).map((name) => ({ path: name, what: 'gone' as const }))
  return [...gone, ...taken.filter(isAltered).map((mark) => ({ path: mark.path, what: 'altered' as const }))]
}
