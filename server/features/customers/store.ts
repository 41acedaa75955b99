import type { Customer, CustomerNew } from '#contract/customers.ts'
import { findWords, foldForFind } from '#core/find-text.ts'
import { Prisma } from '#prisma/client/client.ts'
import { OWES } from '#server/features/money/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { idCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'

export interface CustomerColumns {
  name: string
  phone: string | null
  mail: string | null
  hearBy: string
  address: string | null
  note: string | null
}

/** A customer as the wire shows them, as a JSON expression over the row aliased c; days are of the shop's zone. */
export function customerJson(zone: string): Prisma.Sql {
  return Prisma.sql`jsonb_strip_nulls(jsonb_build_object('id', c.id, 'name', c.name, 'phone', c.phone, 'mail', c.mail, 'address', c.address,
      'hearBy', c.hear_by, 'note', c.note, 'version', c.version)
    || (SELECT jsonb_build_object('cranksHere', count(*), 'lastTag', (array_agg(j.tag ORDER BY j.number DESC))[1],
      'lastOn', to_char((array_agg(j.booked_at ORDER BY j.number DESC))[1] AT TIME ZONE ${zone}, 'YYYY-MM-DD'),
      'owes', coalesce(sum(${OWES}), 0)) FROM job j WHERE j.customer_id = c.id))`
}

/** What a customer is found by: name first, so that this column also sorts by name. */
function findTextOf(columns: { name: string; phone: string | null; mail: string | null }): string {
  return [columns.name, columns.phone ?? '', columns.mail ?? ''].map(foldForFind).join(' ')
}

/** A customer; of one that became another, the other. */
export async function readCustomer(db: Tx | Db['prisma'], id: string, zone: string): Promise<Customer | null> {
  const [row] = await db.$queryRaw<{ customer: Customer }[]>`SELECT ${customerJson(zone)} AS customer FROM customer c
    WHERE c.id = (SELECT coalesce(asked.merged_into_id, asked.id) FROM customer asked WHERE asked.id = ${id}::uuid)`
  return row?.customer ?? null
}

export async function listCustomers(
  db: Db,
  asked: { q?: string | undefined; after?: string | undefined; limit?: number | undefined },
  zone: string,
): Promise<{ rows: Customer[]; next: string | null }> {
  const after = idCursor(asked.after)
  const like = findWords(asked.q ?? '').map((word) => `%${word}%`)
  const rows = await db.prisma.$queryRaw<{ customer: Customer }[]>`
    SELECT ${customerJson(zone)} AS customer FROM customer c
    WHERE c.find_text LIKE ALL (${like}::text[]) AND c.merged_into_id IS NULL
      AND (${after}::uuid IS NULL OR (c.find_text, c.id) > (SELECT seen.find_text, seen.id FROM customer seen WHERE seen.id = ${after}::uuid))
    ORDER BY c.find_text, c.id LIMIT ${pageLength(asked.limit) + 1}`
  return pageFrom(
    rows.map((row) => row.customer),
    asked.limit,
    (row) => row.id,
  )
}

/** Adds a customer as the counter typed them, and answers the id. */
export async function addCustomer(act: Act, wanted: CustomerNew): Promise<string> {
  const { id, name, phone, mail, address, hearBy, note } = wanted
  const columns: CustomerColumns = {
    name,
    phone: phone ?? null,
    mail: mail ?? null,
    hearBy: hearBy ?? firstWay({ phone, mail }),
    address: textOrNull(address),
    note: textOrNull(note),
  }
  const made = id ?? act.newId()
  await ask(
    act.tx,
    Prisma.sql`INSERT INTO customer (id, name, phone, mail, hear_by, address, note, find_text, created_at)
      VALUES (${made}::uuid, ${name}, ${columns.phone}, ${columns.mail}, ${columns.hearBy}, ${columns.address}, ${columns.note}, ${findTextOf(columns)}, ${act.now})`,
  )
  act.note('add customer', 'customer', made, { after: columns })
  return made
}

/** Without a word about how they want to hear from us: the way they gave. */
function firstWay(given: { phone: string | undefined; mail: string | undefined }): string {
  if (given.phone !== undefined) return 'phone'
  return given.mail === undefined ? 'post' : 'mail'
}

export function textOrNull(text: string | null | undefined): string | null {
  return text === undefined || text === null || text.trim() === '' ? null : text
}

export interface HeldCustomer extends CustomerColumns {
  id: string
  version: number
  mergedIntoId: string | null
}

/** Customers by id, kept as they are until the end of the act; those that are not in the book are missing. */
export async function lockCustomers(tx: Tx, ids: readonly string[]): Promise<HeldCustomer[]> {
  return tx.$queryRaw<HeldCustomer[]>`
    SELECT id, name, phone, mail, hear_by AS "hearBy", address, note, version, merged_into_id AS "mergedIntoId"
    FROM customer WHERE id = ANY (${[...ids]}::uuid[]) ORDER BY id FOR UPDATE`
}

/** Who a customer is now: themselves, or the one that they became. Kept from becoming another until the end of the act. */
export async function standingCustomer(tx: Tx, id: string): Promise<{ id: string; name: string } | null> {
  const [row] = await tx.$queryRaw<{ id: string; name: string; mergedIntoId: string | null }[]>`
    SELECT id, name, merged_into_id AS "mergedIntoId" FROM customer WHERE id = ${id}::uuid FOR SHARE`
  if (row === undefined || row.mergedIntoId === null) return row === undefined ? null : { id: row.id, name: row.name }
  return standingCustomer(tx, row.mergedIntoId)
}

/** Moves everything of one customer to another, and what had become the one before; answers what moved. */
export async function moveEverything(
  act: Act,
  from: string,
  to: string,
): Promise<{ cranks: string[]; jobs: { id: string; tag: string }[] }> {
  const cranks = await act.tx.$queryRaw<{ id: string }[]>`
    UPDATE crank SET customer_id = ${to}::uuid, version = version + 1 WHERE customer_id = ${from}::uuid RETURNING id`
  const jobs = await act.tx.$queryRaw<{ id: string; tag: string }[]>`
    UPDATE job SET customer_id = ${to}::uuid, version = version + 1 WHERE customer_id = ${from}::uuid RETURNING id, tag`
  await act.tx.customer.updateMany({ where: { mergedIntoId: from }, data: { mergedIntoId: to } })
  await act.tx.customer.update({ where: { id: from }, data: { mergedIntoId: to, version: { increment: 1 } }, select: { id: true } })
  return { cranks: cranks.map(({ id }) => id), jobs }
}

/** Writes the changed columns over the version that was seen. */
export async function changeCustomer(act: Act, id: string, expected: number, columns: CustomerColumns): Promise<void> {
  const { count } = await act.tx.customer.updateMany({
    where: { id, version: expected },
    data: { ...columns, findText: findTextOf(columns), version: { increment: 1 } },
  })
  if (count === 1) return
  const now = await act.tx.customer.findUniqueOrThrow({ where: { id }, select: { version: true } })
  mustStandAt(now.version, expected)
}
