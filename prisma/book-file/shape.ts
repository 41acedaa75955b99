/** What a book consists of, read from the database itself, so that a backup fits whatever version the book stands at. */
import pg from 'pg'
import type { MigrationMark } from './manifest.ts'
import { BackupTrouble } from './trouble.ts'

export interface Table {
  name: string
  columns: string[]
  /** Columns of the primary key as an ORDER BY takes them; text by its bytes, since locales differ in order. */
  order: string
}

interface TableRow {
  name: string
  columns: string[]
  key: { name: string; collates: boolean }[] | null
  needs: string[]
}

const TABLES = `
  SELECT c.relname::text AS name,
    (SELECT array_agg(a.attname::text ORDER BY a.attnum) FROM pg_attribute a
      WHERE a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = '') AS columns,
    (SELECT json_agg(json_build_object('name', a.attname, 'collates', a.attcollation <> 0) ORDER BY k.place) FROM pg_index i
      CROSS JOIN unnest(i.indkey::int2[]) WITH ORDINALITY AS k(attnum, place)
      JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum = k.attnum WHERE i.indrelid = c.oid AND i.indisprimary) AS key,
    coalesce((SELECT array_agg(DISTINCT r.relname::text) FROM pg_constraint f JOIN pg_class r ON r.oid = f.confrelid
      WHERE f.conrelid = c.oid AND f.contype = 'f' AND f.confrelid <> c.oid), '{}') AS needs
  FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'
    AND NOT EXISTS (SELECT 1 FROM pg_depend d WHERE d.objid = c.oid AND d.deptype = 'e')
  ORDER BY c.relname COLLATE "C"`

const HISTORY = '_prisma_migrations'

/** The tables of the book, each after those that its rows refer to. */
export async function tablesOf(client: pg.ClientBase): Promise<Table[]> {
  const { rows } = await client.query<TableRow>(TABLES)
  const waiting = rows.filter((row) => row.name !== HISTORY)
  const ordered: Table[] = []
  const placed = new Set<string>()
  while (waiting.length > 0) {
    const at = waiting.findIndex((row) => row.needs.every((need) => placed.has(need)))
    const row = waiting[at]
    if (!row) throw new BackupTrouble(`The tables ${waiting.map((each) => each.name).join(', ')} refer to one another in a circle.`)
    if (!row.key) throw new BackupTrouble(`The table ${row.name} has no primary key, and so its rows have no order.`)
    waiting.splice(at, 1)
    placed.add(row.name)
    ordered.push({
      name: row.name,
      columns: row.columns,
      order: row.key.map((part) => `${pg.escapeIdentifier(part.name)}${part.collates ? ' COLLATE "C"' : ''}`).join(', '),
    })
  }
  return ordered
}

export interface SequenceMark {
  name: string
  last: string | null
}

export async function sequencesOf(client: pg.ClientBase): Promise<SequenceMark[]> {
  const { rows } = await client.query<SequenceMark>(
    `SELECT sequencename::text AS name, last_value::text AS last FROM pg_sequences WHERE schemaname = 'public' ORDER BY sequencename COLLATE "C"`,
  )
  return rows
}

/** The changes that made this book, in order; null where no book was ever opened in this database. */
export async function levelOf(client: pg.ClientBase): Promise<MigrationMark[] | null> {
  const known = await client.query<{ there: boolean }>(`SELECT to_regclass('public.${HISTORY}') IS NOT NULL AS there`)
  if (!known.rows[0]?.there) return null
  const { rows } = await client.query<MigrationMark>(
    `SELECT migration_name::text AS name, checksum::text AS checksum FROM ${HISTORY}
     WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL ORDER BY migration_name COLLATE "C"`,
  )
  return rows
}

export async function auditHead(client: pg.ClientBase): Promise<{ seq: number; head: string | null }> {
  const { rows } = await client.query<{ seq: string; head: string }>(
    `SELECT a.seq::text AS seq, encode(a.hash, 'hex') AS head FROM audit_row a ORDER BY a.seq DESC LIMIT 1`,
  )
  return rows[0] ? { seq: Number(rows[0].seq), head: rows[0].head } : { seq: 0, head: null }
}

// One form of every value whatever the database or the role is set to; long work is not to be cut off by a time-out.
const PLAIN = [
  "timezone = 'UTC'",
  "datestyle = 'ISO, YMD'",
  "intervalstyle = 'iso_8601'",
  "bytea_output = 'hex'",
  'extra_float_digits = 1',
  "client_encoding = 'UTF8'",
  "search_path = 'public'",
  'statement_timeout = 0',
  'idle_in_transaction_session_timeout = 0',
  "lock_timeout = '20s'",
]

/** A connection for copying: as the role that owns the book, where there is one. */
export async function openForCopy(url: string): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000, application_name: 'throwbook backup' })
  // A connection that dies says so at the next statement; without a listener it would end the process.
  client.on('error', () => {})
  await client.connect()
  const { rows } = await client.query<{ may: boolean }>(
    `SELECT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'throwbook_owner' AND pg_has_role(current_user, oid, 'MEMBER')) AS may`,
  )
  if (rows[0]?.may) await client.query('SET ROLE throwbook_owner')
  for (const setting of PLAIN) await client.query(`SET ${setting}`)
  return client
}
