import type { z } from 'zod'
import type { BoxCheck, box } from '#contract/money.ts'
import { Prisma } from '#prisma/client/client.ts'
import type { Act } from '#server/plugins/act.ts'
import { ask, type Tx } from '#server/plugins/database.ts'

type Box = z.infer<typeof box>

/** Payments less what was given back, of the job aliased j. */
const TAKEN = Prisma.sql`coalesce((SELECT sum(CASE p.what WHEN 'back' THEN -p.amount_minor ELSE p.amount_minor END) FROM payment p WHERE p.job_id = j.id), 0)`

/** Agreed and not paid, of the job aliased j, by the rule of core's owesMinor; null where nothing was agreed. */
export const OWES = Prisma.sql`(SELECT greatest(0, q.total_minor - ${TAKEN})::bigint FROM quote q WHERE q.job_id = j.id AND q.yes_at IS NOT NULL ORDER BY q.version DESC LIMIT 1)`

/** Deposits less what was given back, of the job aliased j. */
export const DEPOSIT_HELD = Prisma.sql`(SELECT greatest(0, sum(CASE p.what WHEN 'deposit' THEN p.amount_minor WHEN 'back' THEN -p.amount_minor ELSE 0 END))::bigint FROM payment p WHERE p.job_id = j.id)`

export interface QuoteRow {
  id: string
  version: number
  totalMinor: number
  yesAt: Date | null
}

export async function lastQuote(tx: Tx, jobId: string): Promise<QuoteRow | null> {
  return tx.quote.findFirst({
    where: { jobId },
    orderBy: { version: 'desc' },
    select: { id: true, version: true, totalMinor: true, yesAt: true },
  })
}

export async function addQuote(
  act: Act,
  quote: { id?: string | undefined; jobId: string; version: number; totalMinor: number; taxMinor: number; text: string; madeAt: Date },
): Promise<void> {
  const { id, ...rest } = quote
  await act.tx.quote.create({ data: { ...rest, ...(id === undefined ? {} : { id }), madeById: act.by.id }, select: { id: true } })
}

/** Writes the yes into a quote that has none; false where it has one already. */
export async function sayYes(act: Act, quoteId: string, yes: { by: string; how: string; at: Date }): Promise<boolean> {
  const { count } = await act.tx.quote.updateMany({
    where: { id: quoteId, yesAt: null },
    data: { yesBy: yes.by, yesHow: yes.how, yesAt: yes.at, yesEnteredBy: act.by.id },
  })
  return count === 1
}

export async function addPayment(
  act: Act,
  payment: {
    id?: string | undefined
    jobId: string
    amountMinor: number
    what: string
    how: string
    note?: string | undefined
    at: Date
  },
): Promise<void> {
  const { id = act.newId(), jobId, amountMinor, what, how, note = null, at } = payment
  await ask(
    act.tx,
    Prisma.sql`INSERT INTO payment (id, job_id, amount_minor, how, what, note, person_id, at)
      VALUES (${id}::uuid, ${jobId}::uuid, ${amountMinor}, ${how}, ${what}, ${note}, ${act.by.id}::uuid, ${at})`,
  )
}

/** Money taken on this job and not given back, in minor units. */
export async function takenMinor(tx: Tx, jobId: string): Promise<number> {
  const [row] = await tx.$queryRaw<{ taken: number }[]>`SELECT ${TAKEN}::float8 AS taken FROM job j WHERE j.id = ${jobId}::uuid`
  return row?.taken ?? 0
}

interface BoxRow {
  items: unknown
  carrier: string | null
  carrierNo: string | null
  grams: number | null
  ownersWord: string | null
  checkedById: string
  checkedAt: Date
  version: number
}

export async function readBox(tx: Tx, jobId: string): Promise<BoxRow | null> {
  return tx.box.findUnique({
    where: { jobId },
    select: {
      items: true,
      carrier: true,
      carrierNo: true,
      grams: true,
      ownersWord: true,
      checkedById: true,
      checkedAt: true,
      version: true,
    },
  })
}

export async function saveBox(act: Act, jobId: string, list: BoxCheck, word: string | null, version: number): Promise<Box> {
  const columns = {
    items: list.items.map(({ what, came, back, why }) => ({ what, came, back, ...(why === undefined ? {} : { why }) })),
    carrier: list.carrier ?? null,
    carrierNo: list.carrierNo ?? null,
    grams: list.grams ?? null,
    ownersWord: word,
    checkedById: act.by.id,
    checkedAt: act.now,
    version,
  }
  await act.tx.box.upsert({
    where: { jobId },
    create: { jobId, ...columns, ownersWordBy: word === null ? null : act.by.id },
    update: { ...columns, ...(act.by.role === 'owner' ? { ownersWordBy: word === null ? null : act.by.id } : {}) },
    select: { jobId: true },
  })
  return {
    items: columns.items,
    ...(list.carrier === undefined ? {} : { carrier: list.carrier }),
    ...(list.carrierNo === undefined ? {} : { carrierNo: list.carrierNo }),
    ...(list.grams === undefined ? {} : { grams: list.grams }),
    ...(word === null ? {} : { ownersWord: word }),
    checkedBy: act.by.name,
    checkedAt: act.now.toISOString(),
    version,
  }
}
