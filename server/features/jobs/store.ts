import type { JobKind, JobState } from '#core/steps.ts'
import type { Prisma } from '#prisma/client/client.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import type { Tx } from '#server/plugins/database.ts'
import { dateColumn, fromDateColumn } from '#server/plugins/shop-day.ts'

/** What commands ask of a job before they write; the row stays locked until the end of the act. */
export interface JobHead {
  id: string
  tag: string
  kind: JobKind
  state: JobState
  crankId: string
  customerId: string
  engine: string
  place: string | null
  holderId: string | null
  cameWith: { what: string; count?: number }[]
  version: number
}

export async function lockJob(tx: Tx, id: string): Promise<JobHead | null> {
  const [row] = await tx.$queryRaw<JobHead[]>`
    SELECT j.id, j.tag, j.kind, j.state, j.crank_id AS "crankId", j.customer_id AS "customerId", e.maker || ' ' || e.code AS engine,
      j.place, j.holder_id AS "holderId", j.came_with AS "cameWith", j.version
    FROM job j JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id WHERE j.id = ${id}::uuid FOR UPDATE OF j`
  return row ?? null
}

/** The tag of the job that this crank is in the house for; null when it is not here. */
export async function openJobOf(tx: Tx, crankId: string): Promise<string | null> {
  const found = await tx.job.findFirst({
    where: { crankId, state: { notIn: ['gone', 'given-back', 'scrapped'] } },
    select: { tag: true },
  })
  return found?.tag ?? null
}

/** The last running number given out, locked until the end of the act so that numbers have no doubles. */
export async function lockTagCounter(tx: Tx): Promise<number> {
  const [row] = await tx.$queryRaw<{ last: number }[]>`SELECT last FROM counter WHERE name = 'tag' FOR UPDATE`
  if (!row) throw new Error('the counter of tags is missing')
  return row.last
}

export async function setTagCounter(tx: Tx, last: number): Promise<void> {
  await tx.counter.update({ where: { name: 'tag' }, data: { last }, select: { name: true } })
}

/** What booking and changing write; calendar dates as text. */
export interface JobColumns {
  whyNow: string
  goesBy: string
  hours: number | null
  hoursHow: string
  usedFor: string | null
  oil: string | null
  whoFits: string | null
  earlierRebuild: string | null
  wantedOn: string | null
  promisedOn: string | null
  kitFrom: string
  cameWith: { what: string; count?: number }[]
  condition: string[]
  conditionNote: string | null
  oldPartsBack: boolean
  feeYesBy: string | null
  feeYesHow: string | null
  also: string | null
  notDone: string | null
}

export interface NewJob extends JobColumns {
  id: string | undefined
  number: number
  tag: string
  kind: string
  crankId: string
  customerId: string
  cameBy: string
  place: string | null
  comebackOfId: string | null
  comebackWhy: string | null
  bookedAt: Date
}

function asRow({ wantedOn, promisedOn, cameWith, condition, ...columns }: JobColumns) {
  return {
    ...columns,
    cameWith: cameWith as Prisma.InputJsonArray,
    condition: condition as Prisma.InputJsonArray,
    wantedOn: wantedOn === null ? null : dateColumn(wantedOn),
    promisedOn: promisedOn === null ? null : dateColumn(promisedOn),
  }
}

export async function insertJob(act: Act, { id, ...job }: NewJob): Promise<string> {
  const made = await act.tx.job.create({
    data: { ...job, ...asRow(job), state: 'booked', bookedById: act.by.id, ...(id === undefined ? {} : { id }) },
    select: { id: true },
  })
  await act.tx.jobStep.create({ data: { jobId: made.id, step: 'booked', personId: act.by.id, at: job.bookedAt }, select: { id: true } })
  return made.id
}

/** A job that a comeback can be of. */
export async function earlierJob(tx: Tx, id: string): Promise<{ tag: string; state: string; crankId: string } | null> {
  return tx.job.findUnique({ where: { id }, select: { tag: true, state: true, crankId: true } })
}

const CHANGEABLE = {
  whyNow: true,
  goesBy: true,
  hours: true,
  hoursHow: true,
  usedFor: true,
  oil: true,
  whoFits: true,
  earlierRebuild: true,
  wantedOn: true,
  promisedOn: true,
  kitFrom: true,
  cameWith: true,
  condition: true,
  conditionNote: true,
  oldPartsBack: true,
  feeYesBy: true,
  feeYesHow: true,
  also: true,
  notDone: true,
} as const

export async function readJobColumns(tx: Tx, id: string): Promise<JobColumns> {
  const row = await tx.job.findUniqueOrThrow({ where: { id }, select: CHANGEABLE })
  return {
    ...row,
    hours: row.hours === null ? null : Number(row.hours),
    wantedOn: row.wantedOn && fromDateColumn(row.wantedOn),
    promisedOn: row.promisedOn && fromDateColumn(row.promisedOn),
    cameWith: row.cameWith as JobColumns['cameWith'],
    condition: row.condition as string[],
  }
}

export async function changeJobRow(act: Act, id: string, expected: number, columns: JobColumns): Promise<void> {
  const { count } = await act.tx.job.updateMany({
    where: { id, version: expected },
    data: { ...asRow(columns), version: { increment: 1 } },
  })
  if (count === 1) return
  const now = await act.tx.job.findUniqueOrThrow({ where: { id }, select: { version: true } })
  mustStandAt(now.version, expected)
}

export async function movePlace(act: Act, id: string, to: { place?: string | null; holderId?: string | null }): Promise<void> {
  await act.tx.job.update({ where: { id }, data: { ...to, version: { increment: 1 } }, select: { id: true } })
}

/** Keeps the hash of a new secret address; earlier ones of the same job open no more. */
export async function replaceLink(act: Act, jobId: string, tokenHash: Uint8Array<ArrayBuffer>): Promise<{ ended: number }> {
  const { count } = await act.tx.publicLink.updateMany({ where: { jobId, endedAt: null }, data: { endedAt: act.now } })
  await act.tx.publicLink.create({ data: { jobId, tokenHash, madeById: act.by.id, madeAt: act.now }, select: { id: true } })
  return { ended: count }
}
