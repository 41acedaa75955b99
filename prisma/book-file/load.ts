/** Puts the rows and files of a backup into a book of the same version, in one transaction, and looks at all of it again. */
import pg from 'pg'
import { auditRows } from '#server/features/audit/store.ts'
import { verifyChain } from '#server/features/audit/verify.ts'
import { type CopyIn, copyIn, copyOut } from './copy.ts'
import type { FileKeeper } from './kept-files.ts'
import type { Manifest } from './manifest.ts'
import { type BackupFile, fileOf, rowsOfPart, tableOf } from './read.ts'
import { sequencesOf, type Table, tablesOf } from './shape.ts'
import { BackupTrouble } from './trouble.ts'

/** Answers only when every table, sequence, file and the audit chain are what the backup says; else nothing is kept. */
export async function loadBackup(client: pg.ClientBase, backup: BackupFile, keeper: FileKeeper, signal?: AbortSignal): Promise<void> {
  const { manifest } = backup
  await client.query('BEGIN')
  try {
    const tables = await tablesOf(client)
    mustHaveSameTables(manifest, tables)
    for (const table of tables) await client.query(`LOCK TABLE public.${pg.escapeIdentifier(table.name)} IN ACCESS EXCLUSIVE MODE`)
    await clear(client, tables)
    const wake = await quieten(client)
    const faults = await fill(client, backup, keeper, signal)
    await wake()
    faults.push(...(await differences(client, manifest, tables, signal)))
    if (faults.length > 0) throw new BackupTrouble(`It was put in and does not agree with the backup: ${faults.join('; ')}.`)
    await setSequences(client, manifest)
    await client.query('COMMIT')
  } catch (error) {
    await client.query('ROLLBACK').catch(() => {})
    await keeper.undo()
    throw error
  }
}

function mustHaveSameTables(manifest: Manifest, tables: Table[]): void {
  const shape = (all: { name: string; columns: string[] }[]) =>
    all.map((table) => `${table.name} (${[...table.columns].sort().join(', ')})`).sort()
  const [wanted, there] = [shape(manifest.tables), shape(tables)]
  const odd = [...wanted.filter((each) => !there.includes(each)), ...there.filter((each) => !wanted.includes(each))]
  if (odd.length > 0) throw new BackupTrouble(`The tables of the backup are not those of this book: ${odd.slice(0, 3).join('; ')}.`)
}

/** What a fresh book comes with (counters at nothing, a code for the first visit) gives way to the backup's rows. */
async function clear(client: pg.ClientBase, tables: Table[]): Promise<void> {
  for (const table of tables.toReversed()) {
    const name = `public.${pg.escapeIdentifier(table.name)}`
    const { rows } = await client.query<{ any: boolean }>(`SELECT EXISTS (SELECT 1 FROM ${name}) AS any`)
    if (rows[0]?.any) await client.query(`DELETE FROM ${name}`)
  }
}

const ENABLE: Record<string, string> = { O: 'ENABLE', A: 'ENABLE ALWAYS', R: 'ENABLE REPLICA' }

/**
 * A trigger that writes something of its own when a row comes in has done so once already, before the backup: what it wrote
 * comes with the rows. Each sleeps while they are put in and is woken to the state that it was in.
 */
async function quieten(client: pg.ClientBase): Promise<() => Promise<void>> {
  const INSERT = 4
  const { rows } = await client.query<{ place: string; name: string; enabled: string }>(
    `SELECT t.tgrelid::regclass::text AS place, t.tgname::text AS name, t.tgenabled::text AS enabled FROM pg_trigger t
     JOIN pg_class c ON c.oid = t.tgrelid WHERE c.relnamespace = 'public'::regnamespace AND NOT t.tgisinternal
       AND t.tgtype & $1 <> 0 AND t.tgenabled <> 'D' ORDER BY 1, 2`,
    [INSERT],
  )
  const alter = async (how: (enabled: string) => string) => {
    for (const { place, name, enabled } of rows)
      await client.query(`ALTER TABLE ${place} ${how(enabled)} TRIGGER ${pg.escapeIdentifier(name)}`)
  }
  await alter(() => 'DISABLE')
  return () => alter((enabled) => ENABLE[enabled] ?? 'ENABLE')
}

async function fill(client: pg.ClientBase, backup: BackupFile, keeper: FileKeeper, signal?: AbortSignal): Promise<string[]> {
  const marks = new Map(backup.manifest.files.map((mark) => [mark.path, mark]))
  const faults: string[] = []
  const tables = tableFiller(client, backup.manifest)
  try {
    for await (const entry of backup.entries()) {
      signal?.throwIfAborted()
      const table = tableOf(entry)
      const file = fileOf(entry)
      await tables.goTo(table)
      if (table !== undefined) await tables.put(await rowsOfPart(entry))
      const wanted = marks.get(file ?? '')
      // Only what the manifest names, whose form it has checked, may become a place on the disk.
      if (!wanted) continue
      const kept = await keeper.keep(wanted.path, entry.content)
      if (kept.sha256 !== wanted.sha256) faults.push(`the file ${wanted.path} is another`)
    }
    await tables.goTo(undefined)
  } catch (error) {
    await tables.giveUp(error as Error)
    throw error
  }
  return faults
}

/** One COPY a table, however many parts it comes in. */
function tableFiller(client: pg.ClientBase, manifest: Manifest) {
  const known = new Map(manifest.tables.map((mark) => [mark.name, mark]))
  let at: { name: string; rows: CopyIn } | undefined
  return {
    async goTo(name: string | undefined) {
      if (at?.name === name) return
      await at?.rows.end()
      const table = known.get(name ?? '')
      at = table && { name: table.name, rows: copyIn(client, table) }
    },
    async put(rows: Buffer) {
      await at?.rows.write(rows)
    },
    async giveUp(cause: Error) {
      await at?.rows.giveUp(cause)
    },
  }
}

/** Everything worked out anew from what now lies in the book. */
async function differences(client: pg.ClientBase, manifest: Manifest, tables: Table[], signal?: AbortSignal): Promise<string[]> {
  const faults: string[] = []
  const wanted = new Map(manifest.tables.map((mark) => [mark.name, mark]))
  for (const table of tables) {
    signal?.throwIfAborted()
    const mark = wanted.get(table.name)
    const now = await copyOut(client, { ...table, columns: mark?.columns ?? table.columns })
    if (now.rows !== mark?.rows) faults.push(`${table.name} has ${now.rows} rows instead of ${mark?.rows}`)
    else if (now.sha256 !== mark.sha256) faults.push(`${table.name} holds other rows`)
  }
  const chain = await verifyChain(auditRows(client), manifest.audit.head ?? undefined)
  const { seq, head } = manifest.audit
  if (chain.fault) faults.push(`the audit chain breaks at row ${chain.fault.seq}: ${chain.fault.says}`)
  else if (chain.rows !== seq || (head !== null && chain.head !== head))
    faults.push(`the audit chain ends at row ${chain.rows} instead of ${seq}`)
  return faults
}

// Last of all: a sequence does not go back with its transaction.
async function setSequences(client: pg.ClientBase, manifest: Manifest): Promise<void> {
  for (const { name, last } of manifest.sequences)
    if (last !== null) await client.query(`SELECT setval(format('public.%I', $1::text)::regclass, $2::bigint)`, [name, last])
  const now = await sequencesOf(client)
  if (JSON.stringify(now) !== JSON.stringify(manifest.sequences))
    throw new BackupTrouble('It was put in and its sequences do not stand where the backup says.')
}
