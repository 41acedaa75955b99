/** A small book with something of everything in it, empty databases to put it into, and a look at books that shares no code with the backup. */
import { createHash, randomUUID } from 'node:crypto'
import { chmodSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import pg from 'pg'
import type supertest from 'supertest'
import { afterAll, inject } from 'vitest'
import { dumpStructure } from '#prisma/dump.ts'
import { migrate, prepareRoles } from '#prisma/migrate.ts'
import { type BackUp, backUp } from '#server/features/backups/store.ts'
import type { Agent, TestApp } from './app.ts'
import { type Hands, secondReading, truedRebuild } from './bench-factories.ts'
import { picture, upload } from './photo-upload.ts'

export interface Sheet {
  id: string
  jobId: string
  address: string
  pdf: Buffer
}

/** One crank certified, its paper drawn, a photo taken. */
export async function oneCertified(h: Hands): Promise<Sheet> {
  const job = await truedRebuild(h)
  await secondReading(h, job)
  h.it.clock.pass(1)
  const { id } = (await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)).body as { id: string }
  const sent = await upload(h.it, h.bench, job.id, { bytes: await picture(320, 240).jpeg().toBuffer(), fields: [['caption', 'left end']] })
  if (sent.status !== 201) throw new Error(`the photo was not taken: ${JSON.stringify(sent.body)}`)
  const address = `/api/certificates/${id}/paper.pdf?paper=A4`
  return { id, jobId: job.id, address, pdf: await bytesOf(h.second, address) }
}

export async function bytesOf(agent: Agent, address: string): Promise<Buffer> {
  return (await agent.get(address).buffer(true).parse(binary).expect(200)).body as Buffer
}

function binary(response: supertest.Response, done: (error: Error | null, body: Buffer) => void): void {
  const chunks: Buffer[] = []
  // The answer is the stream itself while it is being parsed; its type does not say so.
  const stream = response as unknown as NodeJS.ReadableStream
  stream.on('data', (chunk: Buffer) => chunks.push(chunk))
  stream.on('end', () => done(null, Buffer.concat(chunks)))
}

/** A folder of this file's own, taken away after it. */
export function ownFolder(): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'throwbook-backup-'))
  // A database may run under another account, which has to pass through the folder.
  chmodSync(folder, 0o755)
  afterAll(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

export function bookOf(it: TestApp) {
  return { name: 'book', url: it.url, files: it.app.files }
}

export function backUpOf(it: TestApp, to: string): Promise<BackUp> {
  return backUp(bookOf(it), to, { now: it.clock.now })
}

/** A database without anything in it, in the cluster of this run unless told otherwise. */
export async function emptyDatabase(clusterUrl: string = inject('clusterUrl'), how = ''): Promise<string> {
  const name = `r_${randomUUID().replaceAll('-', '')}`
  await onServer(clusterUrl, `CREATE DATABASE ${name} TEMPLATE template0 ${how}`)
  afterAll(() => onServer(clusterUrl, `DROP DATABASE IF EXISTS ${name} WITH (FORCE)`))
  return clusterUrl.replace(/\/[^/]*$/, `/${name}`)
}

/** A book that nobody has worked in; `upTo` names the last change that was made to it. */
export async function emptyBook(upTo?: string): Promise<string> {
  const url = await emptyDatabase()
  await migrate(url, await prepareRoles(url), upTo)
  return url
}

async function onServer(url: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  await client.query(statement).finally(() => client.end())
}

export async function inDatabase<Answer>(url: string, work: (client: pg.Client) => Promise<Answer>): Promise<Answer> {
  const client = new pg.Client({ connectionString: url, options: '-c timezone=UTC' })
  await client.connect()
  return work(client).finally(() => client.end())
}

/** Every table by the digest of its rows as text, with sequences, structure, triggers and rights. */
export async function lookAtBook(url: string): Promise<Record<string, string>> {
  const structure = await inDatabase(url, dumpStructure)
  // The order of the lines follows the locale of the database, what they say does not.
  return { ...(await lookAtRows(url)), structure: structure.split('\n').sort().join('\n') }
}

/** The same without the structure, which takes its time. */
export function lookAtRows(url: string): Promise<Record<string, string>> {
  return inDatabase(url, async (client) => {
    const seen: Record<string, string> = {}
    const tables = await client.query<{ name: string }>(
      `SELECT quote_ident(relname) AS name FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' AND relname <> '_prisma_migrations'`,
    )
    const looks = tables.rows.map(
      ({ name }) =>
        `SELECT '${name}' AS name, count(*) AS n, md5(coalesce(string_agg(t::text, E'\\n' ORDER BY t::text COLLATE "C"), '')) AS digest FROM ${name} t`,
    )
    const { rows } = await client.query<{ name: string; n: string; digest: string }>(looks.join(' UNION ALL '))
    for (const { name, n, digest } of rows) seen[name] = `${n} rows ${digest}`
    const sequences = await client.query<{ name: string; last: string }>(
      `SELECT sequencename AS name, coalesce(last_value::text, 'none') AS last FROM pg_sequences WHERE schemaname = 'public'`,
    )
    for (const { name, last } of sequences.rows) seen[`sequence ${name}`] = last
    const migrations = await client.query<{ name: string }>('SELECT migration_name AS name FROM _prisma_migrations ORDER BY 1')
    seen.migrations = migrations.rows.map((row) => row.name).join(' ')
    return seen
  })
}

/** Every kept file by the digest of what is in it. */
export function lookAtFiles(folder: string): Record<string, string> {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile())
  const places = entries.map((entry) => path.join(entry.parentPath, entry.name)).sort()
  return Object.fromEntries(
    places.map((place) => [path.relative(folder, place), createHash('sha256').update(readFileSync(place)).digest('hex')]),
  )
}
