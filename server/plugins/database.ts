/** The book's database: one pool, one Prisma client on top of it, the checks that must hold before anything is served. */
import { PrismaPg } from '@prisma/adapter-pg'
import pg from 'pg'
import { Prisma, PrismaClient } from '#prisma/client/client.ts'
import { type Cluster, startCluster } from '#prisma/cluster.ts'
import { BookTrouble, migrate, migrationNames, prepareRoles, type Roles } from '#prisma/migrate.ts'
import { clientsOn } from '#prisma/one-connection.ts'
import { statementNameOf } from '#prisma/statement-names.ts'

/** The handle of one open transaction; every write function takes one first. */
export type Tx = Prisma.TransactionClient

/** A typed statement with its values apart, for what the plugins ask themselves. */
export const sql = Prisma.sql
export type Sql = Prisma.Sql

export interface Db {
  prisma: PrismaClient
  pool: pg.Pool
  /** Prisma's client over one connection of the pool. */
  over(connection: pg.PoolClient): PrismaClient
  close(): Promise<void>
}

export const DATABASE_LIMITS = {
  connections: 10,
  connectMs: 2_000,
  statementMs: 10_000,
  lockMs: 3_000,
  idleInTransactionMs: 15_000,
} as const

/**
 * Nothing here runs so long that compiling it first would pay; a guess too high made it wait for that all the same. And a
 * statement is planned once: in a large book planning a find anew for each word took twice as long as finding.
 */
export const PLANNING = '-c jit=off -c plan_cache_mode=force_generic_plan'

export function openDatabase(url: string, roles: Roles, connections: number = DATABASE_LIMITS.connections): Db {
  const settings = [
    `-c statement_timeout=${DATABASE_LIMITS.statementMs}`,
    `-c lock_timeout=${DATABASE_LIMITS.lockMs}`,
    `-c idle_in_transaction_session_timeout=${DATABASE_LIMITS.idleInTransactionMs}`,
    PLANNING,
  ]
  const pool = new pg.Pool({
    connectionString: url,
    max: connections,
    connectionTimeoutMillis: DATABASE_LIMITS.connectMs,
    options: [roles.app, ...settings].join(' '),
  })
  // A connection that dies while idle is replaced at the next use; without a listener it would end the process.
  pool.on('error', () => {})
  const adapter = new PrismaPg(pool, { statementNameGenerator: ({ sql }) => statementNameOf(sql) })
  const prisma = new PrismaClient({ adapter, transactionOptions: { maxWait: 2_000, timeout: 10_000 } })
  standsOn.set(prisma, pool)
  return {
    prisma,
    pool,
    over: clientsOn(pool),
    close: async () => {
      await prisma.$disconnect()
      if (!pool.ended) await pool.end()
    },
  }
}

/** What each of Prisma's clients sends its statements over. */
const standsOn = new WeakMap<object, Pick<pg.ClientBase, 'query'>>()

/**
 * Sends one typed statement the short way: over the connection that this client of Prisma's stands on, prepared once by
 * its text. Where that is not known, as in a client that somebody extended, Prisma sends it.
 */
export async function ask<Row extends object>(db: Tx | PrismaClient, statement: Prisma.Sql): Promise<Row[]> {
  const connection = standsOn.get(db)
  if (connection === undefined) return db.$queryRaw<Row[]>(statement)
  const { text, values } = statement
  const { rows } = await connection.query<Row>({ name: statementNameOf(text), text, values })
  return rows
}

/** One transaction on one connection; thrown out of it, nothing of it stays. */
export async function inTransaction<Answer>(db: Db, work: (tx: Tx) => Promise<Answer>): Promise<Answer> {
  const connection = await db.pool.connect()
  let broken = false
  try {
    await connection.query('BEGIN')
    const tx = db.over(connection)
    standsOn.set(tx, connection)
    const answer = await work(tx)
    const { command } = await connection.query('COMMIT')
    if (command !== 'COMMIT') throw new Error('a statement of this transaction failed unseen, so nothing of it was kept')
    return answer
  } catch (fault) {
    await connection.query('ROLLBACK').catch(() => {
      broken = true
    })
    throw fault
  } finally {
    connection.release(broken)
  }
}

export interface Opened {
  db: Db
  /** Connection address, and the roles of those who connect. */
  url: string
  roles: Roles
  /** Plain lines to print at start. */
  says: string[]
  close(): Promise<void>
}

/** Starts or reaches the database, migrates the book, checks it and opens it. */
export async function openBook(book: { url: string | undefined; folder: string }): Promise<Opened> {
  const cluster: Cluster | undefined = book.url === undefined ? await startCluster(book.folder) : undefined
  try {
    const url = book.url ?? (await ownDatabase(cluster!))
    const roles = await prepareRoles(url)
    const applied = await migrate(url, roles)
    const db = openDatabase(url, roles)
    await selfCheck(db)
    const says = applied.length > 0 ? [`The book was brought to ${applied.at(-1)}.`] : []
    if (!roles.separate)
      says.push('This database gives no right to make roles: one role both migrates and serves, the triggers still hold.')
    const close = async () => {
      await db.close()
      await cluster?.stop()
    }
    return { db, url, roles, says, close }
  } catch (error) {
    await cluster?.stop()
    throw error
  }
}

/** Opens a book that may be open elsewhere too, without changing it; refuses one that stands at another version than this build. */
export async function openAsItIs(url: string): Promise<Db> {
  const db = openDatabase(url, await prepareRoles(url), 2)
  try {
    if (await migrationsStand(db)) return db
    throw new BookTrouble('The changes applied to this book are not those of this build. Use the build that serves it.')
  } catch (error) {
    await db.close()
    throw error
  }
}

/** Name of the book's database in a cluster of its own. */
export const OWN_DATABASE = 'throwbook'

/** The book's database in its own cluster, made where it is not there yet. */
export async function ownDatabase(cluster: Cluster): Promise<string> {
  const client = new pg.Client({ connectionString: cluster.url() })
  await client.connect()
  const found = await client.query('SELECT 1 FROM pg_database WHERE datname = $1', [OWN_DATABASE])
  if (found.rowCount === 0) await client.query(`CREATE DATABASE ${OWN_DATABASE}`)
  await client.end()
  return cluster.url(OWN_DATABASE)
}

const MUST_BE: Record<string, string> = { fsync: 'on', full_page_writes: 'on', server_encoding: 'UTF8', TimeZone: 'UTC' }

/** Refuses to serve on a database that could lose or garble what it was given. */
export async function selfCheck(db: Db): Promise<void> {
  const { rows } = await db.pool.query<{ name: string; setting: string }>(
    "SELECT name, setting FROM pg_settings WHERE name IN ('fsync', 'full_page_writes', 'synchronous_commit', 'server_encoding', 'TimeZone')",
  )
  for (const { name, setting } of rows) {
    const wanted = MUST_BE[name]
    if (wanted !== undefined && setting !== wanted)
      throw new BookTrouble(`The database runs with ${name} = ${setting}; the book needs ${name} = ${wanted}. Change it and start again.`)
    if (name === 'synchronous_commit' && setting === 'off')
      throw new BookTrouble('The database runs with synchronous_commit = off: acknowledged work could vanish. Turn it on and start again.')
  }
  const who = await db.pool.query<{ super: boolean; role: string }>(
    'SELECT rolsuper AS super, current_user::text AS role FROM pg_roles WHERE rolname = current_user',
  )
  if (who.rows[0]?.super)
    throw new BookTrouble(`The book would be served by the superuser ${who.rows[0].role}. Give DATABASE_URL a role that is none.`)
  if (!(await migrationsStand(db)))
    throw new BookTrouble(
      'The changes applied to this book are not those of this build. Start the build that made it, or restore a backup.',
    )
}

export async function migrationsStand(db: Db): Promise<boolean> {
  const { rows } = await db.pool.query<{ migration_name: string }>(
    'SELECT migration_name FROM _prisma_migrations WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL ORDER BY migration_name',
  )
  const applied = rows.map((row) => row.migration_name)
  return JSON.stringify(applied) === JSON.stringify(migrationNames())
}
