import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import path from 'node:path'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest'
import { dumpStructure } from '#prisma/dump.ts'
import { migrate, migrationNames } from '#prisma/migrate.ts'
import { openDatabase, selfCheck } from '#server/plugins/database.ts'
import { TEMPLATE } from '#tests/support/postgres.ts'

const prismaFolder = path.resolve(import.meta.dirname, '../../../prisma')
const cluster = inject('clusterUrl')
const roles = inject('roles')
const name = `m_${randomUUID().replaceAll('-', '')}`
const url = cluster.replace(/\/[^/]*$/, `/${name}`)
const boss = new pg.Client({ connectionString: cluster })

beforeAll(async () => {
  await boss.connect()
  await boss.query('SELECT pg_advisory_lock(730299)')
  await boss.query(`CREATE DATABASE ${name} TEMPLATE ${TEMPLATE}`)
  await boss.query('SELECT pg_advisory_unlock(730299)')
})
afterAll(async () => {
  await boss.query(`DROP DATABASE ${name} WITH (FORCE)`)
  await boss.end()
})

async function inBook<Answer>(work: (client: pg.Client) => Promise<Answer>): Promise<Answer> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  return work(client).finally(() => client.end())
}

describe('migrations', () => {
  test.each(migrationNames())('%s opens with BEGIN and closes with COMMIT', (migration) => {
    const sql = readFileSync(path.join(prismaFolder, 'migrations', migration, 'migration.sql'), 'utf8').trim()
    expect(sql.startsWith('BEGIN;')).toBe(true)
    expect(sql.endsWith('COMMIT;')).toBe(true)
  })

  test('schema.sql is what a migrated book holds', async () => {
    const dumped = await inBook((client) => dumpStructure(client))
    expect(dumped).toBe(readFileSync(path.join(prismaFolder, 'schema.sql'), 'utf8'))
  })

  test('two servers starting at once take turns and change nothing the second time', async () => {
    expect(await Promise.all([migrate(url, roles), migrate(url, roles)])).toEqual([[], []])
  })

  test('a book of a newer build, and one changed half way, are refused in words', async () => {
    await inBook((client) =>
      client.query(
        `INSERT INTO _prisma_migrations (id, checksum, migration_name, finished_at, applied_steps_count) VALUES ('x', 'y', '29990101000000_later', now(), 1)`,
      ),
    )
    await expect(migrate(url, roles)).rejects.toThrow('opened by a newer build')
    await inBook((client) => client.query(`UPDATE _prisma_migrations SET finished_at = NULL WHERE id = 'x'`))
    await expect(migrate(url, roles)).rejects.toThrow('stopped half way')
    await inBook((client) => client.query(`DELETE FROM _prisma_migrations WHERE id = 'x'`))
    expect(await migrate(url, roles)).toEqual([])
  })
})

describe('start-up self-check', () => {
  test('lets a sound book through, served by a role that is no superuser', async () => {
    const db = openDatabase(url, roles, 2)
    await selfCheck(db)
    const { rows } = await db.pool.query('SELECT current_user::text AS who')
    expect(rows).toEqual([{ who: 'throwbook_app' }])
    await db.close()
  })

  test.each([
    ['a superuser', '-c timezone=UTC', 'superuser'],
    ['another time zone', `${roles.app} -c timezone=Asia/Tokyo`, 'TimeZone'],
    ['synchronous_commit off', `${roles.app} -c synchronous_commit=off`, 'synchronous_commit'],
  ])('refuses %s by name', async (_what, app, named) => {
    const db = openDatabase(url, { ...roles, app }, 2)
    await expect(selfCheck(db)).rejects.toThrow(named)
    await db.close()
  })

  test('an instant stored through either handle is the same instant, whatever the zone of the database', async () => {
    await boss.query(`ALTER DATABASE ${name} SET timezone TO 'Asia/Tokyo'`)
    const db = openDatabase(url, roles, 2)
    const at = new Date('2026-11-24T09:00:00.123Z')
    await db.prisma.draft.deleteMany()
    await db.prisma.signInFailure.create({ data: { subject: 'zone', at } })
    const { rows } = await db.pool.query<{ text: string }>(
      `SELECT to_char(at AT TIME ZONE 'UTC', 'YYYY-MM-DD HH24:MI:SS.MS') AS text FROM sign_in_failure`,
    )
    expect(rows).toEqual([{ text: '2026-11-24 09:00:00.123' }])
    await db.close()
  })
})
