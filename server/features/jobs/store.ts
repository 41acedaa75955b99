import type { JobKind, JobState } from '#core/steps.ts'
import { Prisma } from '#prisma/client/client.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { ask, type Tx } from '#server/plugins/database.ts'
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
  const [row] = await ask<JobHead>(
    tx,
    Prisma.sql`
    SELECT j.id, j.tag, j.kind, j.state, j.crank_id AS "crankId", j.customer_id AS "customerId", e.maker || ' ' || e.code AS engine,
      j.place, j.holder_id AS "holderId", j.came_with AS "cameWith", j.version
    FROM job j JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id WHERE j.id = ${id}::uuid FOR UPDATE OF j`,
  )
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
  const [row] = await ask<{ last: number }>(tx, Prisma.sql`SELECT last FROM counter WHERE name = 'tag' FOR UPDATE`)
  if (!row) throw new Error('the counter of tags is missing')
  return row.last
}

export async function setTagCounter(tx: Tx, last: number): Promise<void> {
  await ask(tx, Prisma.sql`UPDATE counter SET last = ${last} WHERE name = 'tag'`)
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

/** Writes a job down with its first step, its number as the last one given out, and answers its id. */
export async function insertJob(act: Act, { id = act.newId(), ...job }: NewJob): Promise<string> {
  const { bookedAt } = job
  await ask(
    act.tx,
    Prisma.sql`WITH counted AS (UPDATE counter SET last = ${job.number} WHERE name = 'tag'), made AS (INSERT INTO job (id, number, tag, kind, state, crank_id, customer_id, place, wanted_on, promised_on, came_by, goes_by, why_now,
        hours, hours_how, used_for, oil, who_fits, earlier_rebuild, kit_from, came_with, condition, condition_note, old_parts_back, fee_yes_by, fee_yes_how,
        not_done, also, comeback_of_id, comeback_why, booked_by_id, booked_at)
      VALUES (${id}::uuid, ${job.number}, ${job.tag}, ${job.kind}, 'booked', ${job.crankId}::uuid, ${job.customerId}::uuid, ${job.place},
        ${job.wantedOn}::text::date, ${job.promisedOn}::text::date, ${job.cameBy}, ${job.goesBy}, ${job.whyNow}, ${job.hours}::float8::numeric, ${job.hoursHow}, ${job.usedFor}, ${job.oil},
        ${job.whoFits}, ${job.earlierRebuild}, ${job.kitFrom}, ${JSON.stringify(job.cameWith)}::jsonb, ${JSON.stringify(job.condition)}::jsonb,
        ${job.conditionNote}, ${job.oldPartsBack}, ${job.feeYesBy}, ${job.feeYesHow}, ${job.notDone}, ${job.also}, ${job.comebackOfId}::uuid, ${job.comebackWhy},
        ${act.by.id}::uuid, ${bookedAt}) RETURNING id)
      INSERT INTO job_step (id, job_id, step, person_id, at) SELECT ${act.newId()}::uuid, id, 'booked', ${act.by.id}::uuid, ${bookedAt} FROM made`,
  )
  return id
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

/** Gives a job to another customer. */
export async function changeCustomerOf(act: Act, id: string, customerId: string): Promise<void> {
  await act.tx.job.update({ where: { id }, data: { customerId, version: { increment: 1 } }, select: { id: true } })
}

/** Ends the secret addresses of a job that still open, and answers how many there were. */
export async function endLinks(act: Act, jobId: string): Promise<number> {
  const { count } = await act.tx.publicLink.updateMany({ where: { jobId, endedAt: null }, data: { endedAt: act.now } })
  return count
}

/** Keeps the hash of a new secret address; earlier ones of the same job open no more. */
export async function replaceLink(act: Act, jobId: string, tokenHash: Uint8Array<ArrayBuffer>): Promise<{ ended: number }> {
  const ended = await endLinks(act, jobId)
  await act.tx.publicLink.create({ data: { jobId, tokenHash, madeById: act.by.id, madeAt: act.now }, select: { id: true } })
  return { ended }
}
