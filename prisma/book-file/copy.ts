/** Rows of one table as text, out of the database and into it. */
import { createHash } from 'node:crypto'
import { once } from 'node:events'
import { finished } from 'node:stream/promises'
import pg from 'pg'
import { from as copyFrom, to as copyTo } from 'pg-copy-streams'
import type { TableMark } from './manifest.ts'
import type { Table } from './shape.ts'

const list = (columns: string[]) => columns.map((column) => pg.escapeIdentifier(column)).join(', ')

/** Hands every row to `take`, in the order of the primary key, and answers what they were. */
export async function copyOut(
  client: pg.ClientBase,
  table: Table,
  take: (chunk: Buffer) => Promise<void> | undefined = () => undefined,
): Promise<TableMark> {
  const sql = `COPY (SELECT ${list(table.columns)} FROM public.${pg.escapeIdentifier(table.name)} ORDER BY ${table.order}) TO STDOUT`
  const rows = client.query(copyTo(sql))
  const hash = createHash('sha256')
  let bytes = 0
  for await (const chunk of rows as AsyncIterable<Buffer>) {
    hash.update(chunk)
    bytes += chunk.length
    await take(chunk)
  }
  return { name: table.name, columns: table.columns, rows: rows.rowCount, bytes, sha256: hash.digest('hex') }
}

export interface CopyIn {
  write(rows: Buffer): Promise<void>
  end(): Promise<void>
  /** Gives the connection free again after a fault elsewhere. */
  giveUp(cause: Error): Promise<void>
}

/** Puts rows into a table, in one statement: rows of it that refer to one another are looked at when it ends. */
export function copyIn(client: pg.ClientBase, table: Pick<Table, 'name' | 'columns'>): CopyIn {
  const rows = client.query(copyFrom(`COPY public.${pg.escapeIdentifier(table.name)} (${list(table.columns)}) FROM STDIN`))
  const ended = finished(rows)
  // Awaited at the end; without a listener of its own an early fault would count as unheard.
  ended.catch(() => {})
  return {
    async write(chunk) {
      if (!rows.write(chunk)) await Promise.race([once(rows, 'drain'), ended])
    },
    async end() {
      rows.end()
      await ended
    },
    async giveUp(cause) {
      rows.destroy(cause)
      await ended.catch(() => {})
    },
  }
}
