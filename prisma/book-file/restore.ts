/** Puts a backup into an empty book and brings it to this build; a book that is not empty stays as it is. */
import pg from 'pg'
import { migrate, migrationList, type Roles } from '#prisma/migrate.ts'
import type { FileKeeper } from './kept-files.ts'
import { loadBackup } from './load.ts'
import type { Manifest, MigrationMark } from './manifest.ts'
import type { BackupFile } from './read.ts'
import { levelOf, openForCopy, type Table, tablesOf } from './shape.ts'
import { BackupTrouble } from './trouble.ts'

const NOTHING_DONE = 'Nothing was changed.'

/** Refuses a backup that this build cannot bring to its own version. */
export function mustBeReadable({ app, migrations }: Manifest, own: MigrationMark[]): void {
  const known = new Map(own.map((each) => [each.name, each.checksum]))
  const strange = migrations.find((each) => !known.has(each.name))
  if (strange)
    throw new BackupTrouble(
      `This backup was written by a newer build (${app}): its book knows ${strange.name}, this build does not. Put it back with that build or a later one. ${NOTHING_DONE}`,
    )
  const other = migrations.find((each, at) => own[at]?.name !== each.name || known.get(each.name) !== each.checksum)
  if (other)
    throw new BackupTrouble(
      `This backup comes from a build of another line: its ${other.name} is not the one of this build. Put it back with the build that wrote it (${app}). ${NOTHING_DONE}`,
    )
}

/** Rows that a book may hold before anybody has worked in it. */
const BEFORE_WORK: readonly string[] = ['counter', 'setting', 'sign_in_failure', 'proof', 'idempotency', 'office_zone']

const OTHERS = `SELECT DISTINCT coalesce(nullif(application_name, ''), usename::text) AS who FROM pg_stat_activity
  WHERE datname = current_database() AND pid <> pg_backend_pid() AND usename IS NOT NULL AND coalesce(backend_type, 'client backend') = 'client backend'`
const LEAVING_MS = 2_000

/** A server that has the book open would see it change beneath it. A connection that was just shut is seen a moment longer. */
async function mustBeAlone(url: string): Promise<void> {
  // As the role that signs in, which may see who else does; the owner of the book may not.
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 })
  await client.connect()
  try {
    for (let waited = 0; ; waited += 100) {
      const { rows } = await client.query<{ who: string }>(OTHERS)
      if (rows.length === 0) return
      if (waited >= LEAVING_MS)
        throw new BackupTrouble(
          `Something else is connected to this database (${rows.map((row) => row.who).join(', ')}). Stop the server first. ${NOTHING_DONE}`,
        )
      await new Promise((resume) => setTimeout(resume, 100))
    }
  } finally {
    await client.end()
  }
}

/** Answers the last change that was made to the empty book; undefined where no book was ever opened in this database. */
async function mustBeEmpty(client: pg.ClientBase): Promise<string | undefined> {
  const tables = await tablesOf(client)
  const level = await levelOf(client)
  if (level === null) {
    if (tables.length === 0) return undefined
    throw new BackupTrouble(
      `This database holds something that is no Throwbook: the table ${tables[0]?.name}. Give the book a database of its own. ${NOTHING_DONE}`,
    )
  }
  const full = await rowsIn(
    client,
    tables.filter((table) => !BEFORE_WORK.includes(table.name)),
  )
  if (full.length > 0)
    throw new BackupTrouble(
      `This book is not empty: in it are ${full.slice(0, 5).join(', ')}${full.length > 5 ? ' and more' : ''}. A backup goes into an empty book only: name another DATA_DIR or DATABASE_URL. ${NOTHING_DONE}`,
    )
  return level.at(-1)?.name
}

async function rowsIn(client: pg.ClientBase, tables: Table[]): Promise<string[]> {
  const full: string[] = []
  for (const { name } of tables) {
    const { rows } = await client.query<{ count: string }>(`SELECT count(*) FROM public.${pg.escapeIdentifier(name)}`)
    if (rows[0] && rows[0].count !== '0') full.push(`${rows[0].count} of ${name}`)
  }
  return full
}

// Tables whose rows are never changed cannot be emptied, so a book at another version is taken down whole. It holds nothing
// that anybody wrote: mustBeEmpty has seen to that.
const TAKE_DOWN = `DO $$
DECLARE one record;
BEGIN
  FOR one IN SELECT c.oid::regclass AS it FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'
    AND NOT EXISTS (SELECT 1 FROM pg_depend d WHERE d.objid = c.oid AND d.deptype = 'e')
  LOOP EXECUTE format('DROP TABLE %s CASCADE', one.it); END LOOP;
  FOR one IN SELECT p.oid::regprocedure AS it FROM pg_proc p WHERE p.pronamespace = 'public'::regnamespace
    AND NOT EXISTS (SELECT 1 FROM pg_depend d WHERE d.objid = p.oid AND d.deptype = 'e')
  LOOP EXECUTE format('DROP FUNCTION %s', one.it); END LOOP;
END $$`

export interface Into {
  url: string
  roles: Roles
}

/** Answers the changes that brought an older book to this build. Whatever fails leaves the database as empty as it was. */
export async function restoreBackup(into: Into, backup: BackupFile, keeper: FileKeeper, signal?: AbortSignal): Promise<string[]> {
  mustBeReadable(backup.manifest, migrationList())
  const level = backup.manifest.migrations.at(-1)!.name
  await mustBeAlone(into.url)
  const found = await withClient(into.url, mustBeEmpty)
  if (found === level) {
    await withClient(into.url, (client) => loadBackup(client, backup, keeper, signal))
    await withClient(into.url, (client) => client.query('ANALYZE'))
    return []
  }
  try {
    if (found !== undefined) await withClient(into.url, (client) => client.query(TAKE_DOWN))
    await migrate(into.url, into.roles, level)
    await withClient(into.url, (client) => loadBackup(client, backup, keeper, signal))
    const brought = await migrate(into.url, into.roles)
    await withClient(into.url, (client) => client.query('ANALYZE'))
    return brought
  } catch (error) {
    await keeper.undo()
    await withClient(into.url, (client) => client.query(TAKE_DOWN))
    if (found !== undefined) await migrate(into.url, into.roles)
    throw error
  }
}

async function withClient<Answer>(url: string, work: (client: pg.Client) => Promise<Answer>): Promise<Answer> {
  const client = await openForCopy(url)
  return work(client).finally(() => client.end())
}
