/** A database beside the book's own, for as long as something is tried out in it. */
import { createHash } from 'node:crypto'
import pg from 'pg'
import { prepareRoles } from '#prisma/migrate.ts'
import type { Into } from './restore.ts'
import { BackupTrouble } from './trouble.ts'

const TRYING = 730220

/** One try-out of a book at a time, on whatever server: what another one left behind may then be thrown away. */
export async function inScratch<Answer>(url: string, work: (into: Into) => Promise<Answer>): Promise<Answer> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000, application_name: 'throwbook drill' })
  // A connection that dies says so at the next statement; without a listener it would end the process.
  client.on('error', () => {})
  await client.connect()
  try {
    const { rows } = await client.query<{ free: boolean; may: boolean; database: string }>(
      `SELECT pg_try_advisory_lock($1) AS free, rolsuper OR rolcreatedb AS may, current_database()::text AS database
       FROM pg_roles WHERE rolname = current_user`,
      [TRYING],
    )
    const known = rows[0]
    if (!known?.free) throw new BackupTrouble('Another drill of this book is under way. Wait until it has ended.')
    if (!known.may)
      throw new BackupTrouble(
        'The database gives no right to make a second one, so no backup can be put back for trial. Give its role CREATEDB, or restore a backup on another machine now and then.',
      )
    const name = `throwbook_drill_${createHash('sha256').update(known.database).digest('hex').slice(0, 16)}`
    await client.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`)
    await client.query(`CREATE DATABASE ${name} TEMPLATE template0`)
    try {
      const scratch = besides(url, name)
      return await work({ url: scratch, roles: await prepareRoles(scratch) })
    } finally {
      await client.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`)
    }
  } finally {
    await client.end()
  }
}

function besides(url: string, database: string): string {
  const address = new URL(url)
  address.pathname = `/${database}`
  return address.toString()
}
