import type { z } from 'zod'
import type { CheckKind, Instrument, instrumentNew } from '#contract/instruments.ts'
import { Prisma } from '#prisma/client/client.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'
import { dateColumn, fromDateColumn } from '#server/plugins/shop-day.ts'

const COLUMNS = {
  id: true,
  name: true,
  kind: true,
  stepMm: true,
  errorMm: true,
  retraceMm: true,
  repeatMm: true,
  checkedOn: true,
  dueOn: true,
  endedAt: true,
  note: true,
  version: true,
} as const

interface Row {
  id: string
  name: string
  kind: string
  stepMm: unknown
  errorMm: unknown
  retraceMm: unknown
  repeatMm: unknown
  checkedOn: Date | null
  dueOn: Date | null
  endedAt: Date | null
  note: string | null
  version: number
}

/** What its checks say of an instrument as it stands. */
interface Found {
  id: string
  zeroedAt: Date | null
  doubt: { fault: string; kind: CheckKind; since: string } | null
}

/** today: the day in the shop's zone; an instrument that is no longer used is never overdue. */
function asInstrument(
  { checkedOn, dueOn, endedAt, stepMm, errorMm, retraceMm, repeatMm, kind, note, ...row }: Row,
  today: string,
  found: Found | undefined,
): Instrument {
  const due = dueOn && fromDateColumn(dueOn)
  return {
    ...row,
    kind: kind as Instrument['kind'],
    stepMm: Number(stepMm),
    ...(errorMm === null ? {} : { errorMm: Number(errorMm) }),
    ...(retraceMm === null ? {} : { retraceMm: Number(retraceMm) }),
    ...(repeatMm === null ? {} : { repeatMm: Number(repeatMm) }),
    ...(checkedOn === null ? {} : { checkedOn: fromDateColumn(checkedOn) }),
    ...(due === null ? {} : { dueOn: due }),
    overdue: endedAt === null && due !== null && due < today,
    ...(note === null ? {} : { note }),
    ended: endedAt !== null,
    ...(found === undefined || found.zeroedAt === null ? {} : { zeroedAt: found.zeroedAt.toISOString() }),
    ...(found === undefined || found.doubt === null ? {} : { doubt: { ...found.doubt, since: new Date(found.doubt.since).toISOString() } }),
  }
}

/**
 * The check, zero or fall that puts an instrument in doubt: the first one that no check has found good after. As SQL, JSON
 * or null, for statements that ask for more along with it.
 */
export function doubtOf(instrumentId: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`(SELECT json_build_object('fault', f.id, 'kind', f.kind, 'since', f.occurred_at) FROM instrument_check f
    WHERE f.instrument_id = ${instrumentId} AND f.held IS DISTINCT FROM true AND NOT EXISTS (
      SELECT 1 FROM instrument_check g WHERE g.instrument_id = f.instrument_id AND g.kind = 'check' AND g.held
      AND (g.occurred_at, g.recorded_at, g.id) > (f.occurred_at, f.recorded_at, f.id))
    ORDER BY f.occurred_at, f.recorded_at, f.id LIMIT 1)`
}

/** The same two of the row aliased i. */
const FOUND = Prisma.sql`${doubtOf(Prisma.sql`i.id`)} AS doubt,
  (SELECT max(z.occurred_at) FROM instrument_check z WHERE z.instrument_id = i.id AND z.kind = 'zero' AND z.held) AS "zeroedAt"`

/** Those in use first, by name. */
export async function listInstruments(db: Tx | Db['prisma'], today: string): Promise<Instrument[]> {
  const rows = await db.instrument.findMany({ select: COLUMNS, orderBy: [{ name: 'asc' }, { id: 'asc' }], take: 1000 })
  const found = new Map((await ask<Found>(db, Prisma.sql`SELECT i.id, ${FOUND} FROM instrument i`)).map((one) => [one.id, one]))
  const all = rows.map((row) => asInstrument(row, today, found.get(row.id)))
  return [...all.filter((one) => !one.ended), ...all.filter((one) => one.ended)]
}

export async function readInstrument(db: Tx | Db['prisma'], id: string, today: string): Promise<Instrument | null> {
  // Asked at every set of readings, so in one statement; a date comes as the midnight that Prisma would make of it.
  const [row] = await ask<Row & Found>(
    db,
    Prisma.sql`SELECT i.id, i.name, i.kind, i.step_mm AS "stepMm", i.error_mm AS "errorMm", i.retrace_mm AS "retraceMm", i.repeat_mm AS "repeatMm",
      i.checked_on::timestamp AT TIME ZONE 'UTC' AS "checkedOn", i.due_on::timestamp AT TIME ZONE 'UTC' AS "dueOn", i.ended_at AS "endedAt", i.note,
      i.version, ${FOUND} FROM instrument i WHERE i.id = ${id}::uuid`,
  )
  if (row === undefined) return null
  const { doubt, zeroedAt, ...columns } = row
  return asInstrument(columns, today, { id, doubt, zeroedAt })
}

/** Whether another instrument goes by this name. */
export async function nameTaken(tx: Tx, name: string, butFor: string | null): Promise<boolean> {
  const found = await tx.instrument.findUnique({ where: { name }, select: { id: true } })
  return found !== null && found.id !== butFor
}

export async function addInstrument(act: Act, wanted: z.infer<typeof instrumentNew>): Promise<string> {
  const { id, name, kind, stepMm, errorMm = null, retraceMm = null, repeatMm = null, note = null, checkedOn, dueOn } = wanted
  const made = await act.tx.instrument.create({
    data: {
      name,
      kind,
      stepMm,
      errorMm,
      retraceMm,
      repeatMm,
      note,
      checkedOn: checkedOn === undefined ? null : dateColumn(checkedOn),
      dueOn: dueOn === undefined ? null : dateColumn(dueOn),
      ...(id === undefined ? {} : { id }),
    },
    select: { id: true },
  })
  return made.id
}

export interface InstrumentColumns {
  name: string
  errorMm: number | undefined
  retraceMm: number | undefined
  repeatMm: number | undefined
  checkedOn: string | undefined
  dueOn: string | undefined
  note: string | undefined
  ended: boolean
}

/** Writes the changed columns over the version that was seen. */
export async function changeInstrument(act: Act, before: Instrument, after: InstrumentColumns): Promise<void> {
  const endedAt = after.ended ? (before.ended ? undefined : act.now) : null
  const { count } = await act.tx.instrument.updateMany({
    where: { id: before.id, version: before.version },
    data: {
      name: after.name,
      errorMm: after.errorMm ?? null,
      retraceMm: after.retraceMm ?? null,
      repeatMm: after.repeatMm ?? null,
      note: after.note ?? null,
      checkedOn: after.checkedOn === undefined ? null : dateColumn(after.checkedOn),
      dueOn: after.dueOn === undefined ? null : dateColumn(after.dueOn),
      ...(endedAt === undefined ? {} : { endedAt }),
      version: { increment: 1 },
    },
  })
  if (count === 1) return
  const now = await act.tx.instrument.findUniqueOrThrow({ where: { id: before.id }, select: { version: true } })
  mustStandAt(now.version, before.version)
}
