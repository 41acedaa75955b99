/**
 * Makes the roles, brings the book to the state of this build, and says in plain words why it cannot.
 * Two servers that start at once take turns behind an advisory lock.
 */
import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { PrismaPg } from '@prisma/adapter-pg'
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils'
import pg from 'pg'
import { loadEngine, type MigrationsList, NO_FILTERS } from './engine.ts'

const FOLDER = path.join(import.meta.dirname, 'migrations')
const MIGRATING = 730210

/** The book cannot be served; the message says what to do about it. */
export class BookTrouble extends Error {
  override name = 'BookTrouble'
}

export interface Roles {
  /** Start-up options of a connection that migrates, and of one that serves. */
  owner: string
  app: string
  /** False where the host gives no right to make roles: one role then does both. */
  separate: boolean
}

const UTC = '-c timezone=UTC'

export async function prepareRoles(url: string): Promise<Roles> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 })
  await client.connect()
  try {
    const { rows } = await client.query<{ may: boolean; database: string }>(
      'SELECT rolsuper OR rolcreaterole AS may, current_database() AS database FROM pg_roles WHERE rolname = current_user',
    )
    if (!rows[0]?.may) return { owner: UTC, app: UTC, separate: false }
    await client.query('SELECT pg_advisory_lock($1)', [MIGRATING])
    for (const role of ['throwbook_owner', 'throwbook_app']) {
      const found = await client.query('SELECT 1 FROM pg_roles WHERE rolname = $1', [role])
      if (found.rowCount === 0) await client.query(`CREATE ROLE ${role} NOLOGIN`)
      await client.query(`GRANT ${role} TO CURRENT_USER WITH SET TRUE`)
    }
    await client.query(`GRANT CREATE, CONNECT ON DATABASE ${pg.escapeIdentifier(rows[0].database)} TO throwbook_owner`)
    await client.query('GRANT CREATE, USAGE ON SCHEMA public TO throwbook_owner')
    await client.query('SELECT pg_advisory_unlock($1)', [MIGRATING])
    return { owner: `-c role=throwbook_owner ${UTC}`, app: `-c role=throwbook_app ${UTC}`, separate: true }
  } finally {
    await client.end()
  }
}

/** `upTo` names the last change to make; a backup of an earlier build is put into a book of its own version first. */
export async function migrate(url: string, roles: Roles, upTo?: string): Promise<string[]> {
  const lock = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 })
  await lock.connect()
  let closeAdapter = async () => {}
  try {
    await lock.query('SELECT pg_advisory_lock($1)', [MIGRATING])
    const schema = readFileSync(path.join(import.meta.dirname, 'schema.prisma'), 'utf8')
    const adapter = new PrismaPg({ connectionString: url, options: roles.owner, connectionTimeoutMillis: 10_000 })
    const { factory, letGo } = inOneGo(adapter)
    closeAdapter = letGo
    const engine = await loadEngine(schema, bindMigrationAwareSqlAdapterFactory(factory))
    const migrationsList = migrationFiles(upTo)
    const state = await engine.diagnoseMigrationHistory({ migrationsList, optInToShadowDatabase: false, filters: NO_FILTERS })
    refuseWhatDoesNotMatch(state.failedMigrationNames, state.editedMigrationNames, state.history)
    const applied = await engine.applyMigrations({ migrationsList, filters: NO_FILTERS })
    return applied.appliedMigrationNames
  } catch (error) {
    if (error instanceof BookTrouble) throw error
    throw new BookTrouble(
      `The book could not be brought to this version; nothing of the failed change was kept. The database said: ${(error as Error).message}`,
    )
  } finally {
    await closeAdapter()
    await lock.end()
  }
}

/**
 * The adapter cuts a script at every semicolon and may spread the pieces over connections, which breaks function bodies
 * and the BEGIN and COMMIT of a file. A script sent whole runs as one.
 */
function inOneGo(factory: PrismaPg): { factory: PrismaPg; letGo: () => Promise<void> } {
  const connect = factory.connect.bind(factory)
  const open: { dispose(): Promise<void> }[] = []
  factory.connect = async () => {
    const connection = await connect()
    open.push(connection)
    connection.executeScript = async (script) => {
      await connection.underlyingDriver().query(script)
    }
    return connection
  }
  const letGo = async () => {
    for (const connection of open) await connection.dispose()
  }
  return { factory, letGo }
}

function refuseWhatDoesNotMatch(failed: string[], edited: string[], history: unknown): void {
  if (failed.length > 0)
    throw new BookTrouble(
      `A change of the book stopped half way on an earlier start: ${failed.join(', ')}. Restore the last backup, or mend the cause named in the table _prisma_migrations and delete that row; then start again.`,
    )
  if (edited.length > 0)
    throw new BookTrouble(
      `These changes were applied to the book in another form than this build has: ${edited.join(', ')}. Start the build that made this book, or restore a backup made by this one.`,
    )
  const kind = (history as { diagnostic?: string } | null)?.diagnostic
  if (kind === 'migrationsDirectoryIsBehind' || kind === 'historiesDiverge')
    throw new BookTrouble(
      'This book was opened by a newer build. Start that build, or restore a backup made before it; this one would harm the book.',
    )
}

export function migrationNames(): string[] {
  return readdirSync(FOLDER, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()
}

/** The changes of this build with the digest of their text, as the table of a book's changes keeps them. */
export function migrationList(): { name: string; checksum: string }[] {
  return migrationNames().map((name) => ({ name, checksum: createHash('sha256').update(textOf(name)).digest('hex') }))
}

function textOf(migration: string): string {
  return readFileSync(path.join(FOLDER, migration, 'migration.sql'), 'utf8')
}

function migrationFiles(upTo?: string): MigrationsList {
  return {
    baseDir: FOLDER,
    lockfile: { path: 'migration_lock.toml', content: readFileSync(path.join(FOLDER, 'migration_lock.toml'), 'utf8') },
    shadowDbInitScript: '',
    migrationDirectories: migrationNames()
      .filter((name) => upTo === undefined || name <= upTo)
      .map((name) => ({ path: name, migrationFile: { path: 'migration.sql', content: { tag: 'ok', value: textOf(name) } } })),
  }
}
