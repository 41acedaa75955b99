import type { Db } from '#server/plugins/database.ts'
import type { Values } from './counted.ts'

/** Statements that were sent before, by text: each keeps its name, so that a connection prepares it once. */
const names = new Map<string, string>()

/** Sends a statement. Its text may depend on which filters are given, never on their values: there are few of them. */
export async function ask<Row extends object>(db: Pick<Db, 'pool'>, text: string, values: Values | readonly unknown[]): Promise<Row[]> {
  const name = names.get(text) ?? `office ${names.size + 1}`
  names.set(text, name)
  const { rows } = await db.pool.query<Row>({ name, text, values: 'list' in values ? values.list : [...values] })
  return rows
}
