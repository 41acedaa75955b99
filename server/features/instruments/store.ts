import type { z } from 'zod'
import type { Instrument, instrumentNew } from '#contract/instruments.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import { dateColumn, fromDateColumn } from '#server/plugins/shop-day.ts'

const COLUMNS = { id: true, name: true, kind: true, stepMm: true, checkedOn: true, dueOn: true, endedAt: true, version: true } as const

interface Row {
  id: string
  name: string
  kind: string
  stepMm: unknown
  checkedOn: Date | null
  dueOn: Date | null
  endedAt: Date | null
  version: number
}

/** today: the day in the shop's zone; an instrument that is no longer used is never overdue. */
function asInstrument({ checkedOn, dueOn, endedAt, stepMm, kind, ...row }: Row, today: string): Instrument {
  const due = dueOn && fromDateColumn(dueOn)
  return {
    ...row,
    kind: kind as Instrument['kind'],
    stepMm: Number(stepMm),
    ...(checkedOn === null ? {} : { checkedOn: fromDateColumn(checkedOn) }),
    ...(due === null ? {} : { dueOn: due }),
    overdue: endedAt === null && due !== null && due < today,
    ended: endedAt !== null,
  }
}

/** Those in use first, by name. */
export async function listInstruments(db: Tx | Db['prisma'], today: string): Promise<Instrument[]> {
  const rows = await db.instrument.findMany({ select: COLUMNS, orderBy: [{ name: 'asc' }, { id: 'asc' }], take: 1000 })
  const all = rows.map((row) => asInstrument(row, today))
  return [...all.filter((one) => !one.ended), ...all.filter((one) => one.ended)]
}

export async function readInstrument(db: Tx | Db['prisma'], id: string, today: string): Promise<Instrument | null> {
  const row = await db.instrument.findUnique({ where: { id }, select: COLUMNS })
  return row && asInstrument(row, today)
}

/** Whether another instrument goes by this name. */
export async function nameTaken(tx: Tx, name: string, butFor: string | null): Promise<boolean> {
  const found = await tx.instrument.findUnique({ where: { name }, select: { id: true } })
  return found !== null && found.id !== butFor
}

export async function addInstrument(act: Act, wanted: z.infer<typeof instrumentNew>): Promise<string> {
  const { id, name, kind, stepMm, checkedOn, dueOn } = wanted
  const made = await act.tx.instrument.create({
    data: {
      name,
      kind,
      stepMm,
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
  checkedOn: string | undefined
  dueOn: string | undefined
  ended: boolean
}

/** Writes the changed columns over the version that was seen. */
export async function changeInstrument(act: Act, before: Instrument, after: InstrumentColumns): Promise<void> {
  const endedAt = after.ended ? (before.ended ? undefined : act.now) : null
  const { count } = await act.tx.instrument.updateMany({
    where: { id: before.id, version: before.version },
    data: {
      name: after.name,
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
