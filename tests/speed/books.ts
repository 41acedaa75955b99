/** A PostgreSQL of its own with one migrated book, copied for each size and filled. */
import { chmodSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import pg from 'pg'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { startCluster } from '#prisma/cluster.ts'
import { migrate, prepareRoles, type Roles } from '#prisma/migrate.ts'
import { refreshOffice } from '#server/features/office/refresh.ts'
import { openDatabase } from '#server/plugins/database.ts'
import { hashPassword } from '#server/plugins/passwords.ts'
import { type Filling, fill } from './fill.ts'
import { PASSWORD, PEOPLE } from './people.ts'

export interface Books {
  roles: Roles
  folder: string
  version: string
  /** Makes and fills a book with so many jobs, and answers its address. */
  make(jobs: number, years: number): Promise<string>
  close(): Promise<void>
}

export async function openBooks(): Promise<Books> {
  const folder = mkdtempSync(path.join(tmpdir(), 'throwbook-speed-'))
  // The database may run under another account, which has to pass through the folder.
  chmodSync(folder, 0o755)
  const cluster = await startCluster(path.join(folder, 'pg'))
  const passwordHash = await hashPassword(PASSWORD)
  const made = await once(cluster.url(), async (client) => {
    await client.query('CREATE DATABASE empty_book')
    return (await client.query<{ version: string }>(`SELECT split_part(version(), ' ', 2) AS version`)).rows[0]!.version
  })
  const roles = await prepareRoles(cluster.url('empty_book'))
  await migrate(cluster.url('empty_book'), roles)
  return {
    roles,
    folder,
    version: made,
    async make(jobs, years) {
      const name = `book_of_${jobs}`
      await once(cluster.url(), (client) => client.query(`CREATE DATABASE ${name} TEMPLATE empty_book`))
      const url = cluster.url(name)
      await fillBook(url, roles, { jobs, years, now: new Date(), people: PEOPLE, passwordHash })
      return url
    },
    async close() {
      await cluster.stop()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/** Fills a migrated book and brings the sums of its office up to date. */
export async function fillBook(url: string, roles: Roles, filling: Filling): Promise<void> {
  await once(url, (client) => fill(client, filling))
  const db = openDatabase(url, roles)
  try {
    await refreshOffice(db, FIRST_SETTINGS.zone)
  } finally {
    await db.close()
  }
  await once(url, (client) => client.query('VACUUM ANALYZE'))
}

async function once<Answer>(url: string, work: (client: pg.Client) => Promise<Answer>): Promise<Answer> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
  }
}
