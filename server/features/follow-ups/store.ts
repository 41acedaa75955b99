import type { z } from 'zod'
import type { callDue, FollowUp } from '#contract/follow-ups.ts'
import { callDays } from '#core/comeback-calls.ts'
import { Prisma } from '#prisma/client/client.ts'
import { wireInstant } from '#server/features/events/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { dayCursor, dayCursorOf, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import { dateColumn } from '#server/plugins/shop-day.ts'

type Reader = Tx | Db['prisma']
export type CallDue = Omit<z.infer<typeof callDue>, 'daysGone'>

const CALL = Prisma.sql`json_strip_nulls(json_build_object('id', f.id, 'day', f.day, 'runs', f.runs, 'hours', f.hours::float8, 'hoursHow', f.hours_how,
  'says', f.says, 'by', p.name, 'recordedAt', ${wireInstant('f.recorded_at')}, 'struck', CASE WHEN f.struck_at IS NULL THEN NULL ELSE
    json_build_object('by', coalesce(s.name, ''), 'at', ${wireInstant('f.struck_at')}, 'because', f.struck_because) END))`
const FROM_CALLS = Prisma.sql`FROM follow_up f JOIN person p ON p.id = f.person_id LEFT JOIN person s ON s.id = f.struck_by_id`

/** Calls about a job since it went home, newest first, struck ones too. */
export async function callsOf(db: Reader, jobId: string): Promise<FollowUp[]> {
  const rows = await db.$queryRaw<{ call: FollowUp }[]>`
    SELECT ${CALL} AS call ${FROM_CALLS} WHERE f.job_id = ${jobId}::uuid ORDER BY f.day DESC, f.id DESC`
  return rows.map((row) => row.call)
}

export async function readCall(db: Reader, id: string): Promise<(FollowUp & { jobId: string }) | null> {
  const [row] = await db.$queryRaw<{ jobId: string; call: FollowUp }[]>`
    SELECT f.job_id AS "jobId", ${CALL} AS call ${FROM_CALLS} WHERE f.id = ${id}::uuid`
  return row === undefined ? null : { ...row.call, jobId: row.jobId }
}

export async function addCall(
  act: Act,
  call: {
    id?: string | undefined
    jobId: string
    day: string
    runs: boolean
    hours: number | null
    hoursHow: string
    says: string | null
  },
): Promise<string> {
  const { id, day, ...rest } = call
  const made = await act.tx.followUp.create({
    data: { ...rest, day: dateColumn(day), personId: act.by.id, recordedAt: act.now, ...(id === undefined ? {} : { id }) },
    select: { id: true },
  })
  return made.id
}

/** Strikes a call out; false where it was struck out before. */
export async function strikeCall(act: Act, id: string, because: string): Promise<boolean> {
  const { count } = await act.tx.followUp.updateMany({
    where: { id, struckAt: null },
    data: { struckAt: act.now, struckById: act.by.id, struckBecause: because },
  })
  return count === 1
}

/** Something was heard of the job aliased j since it went home. */
const HEARD = Prisma.sql`(EXISTS (SELECT 1 FROM follow_up f WHERE f.job_id = j.id AND f.struck_at IS NULL)
  OR EXISTS (SELECT 1 FROM comeback b WHERE b.job_id = j.id AND b.struck_at IS NULL))`
/** The crank of the job aliased j was booked in again. */
const HERE_AGAIN = Prisma.sql`EXISTS (SELECT 1 FROM job o WHERE o.crank_id = j.crank_id AND o.number > j.number)`

/** What the rule of calls asks of one job. */
export async function heardOf(db: Reader, jobId: string): Promise<{ heardSince: boolean; hereAgain: boolean }> {
  const [row] = await db.$queryRaw<{ heardSince: boolean; hereAgain: boolean }[]>`
    SELECT ${HEARD} AS "heardSince", ${HERE_AGAIN} AS "hereAgain" FROM job j WHERE j.id = ${jobId}::uuid`
  return row ?? { heardSince: false, hereAgain: false }
}

/** Cranks that are to be rung today, the one that is gone longest first. The rule is core's isCallDue; the days are its callDays. */
export async function listCallsDue(
  db: Db,
  asked: { after?: string | undefined; limit?: number | undefined },
  shop: { today: string; zone: string },
): Promise<{ rows: CallDue[]; next: string | null; due: number }> {
  const { from, until } = callDays(shop.today)
  const goneOn = Prisma.sql`(j.gone_at AT TIME ZONE ${shop.zone})::date`
  const due = Prisma.sql`j.state = 'gone' AND j.kind <> 'check-and-report' AND ${goneOn} BETWEEN ${from}::date AND ${until}::date
    AND NOT ${HEARD} AND NOT ${HERE_AGAIN}`
  const after = dayCursor(asked.after)
  const rows = await db.prisma.$queryRaw<{ call: CallDue }[]>`
    SELECT json_strip_nulls(json_build_object('id', j.id, 'tag', j.tag, 'kind', j.kind, 'engine', e.maker || ' ' || e.code, 'goneOn', ${goneOn},
      'usedFor', j.used_for, 'whose', c.name, 'phone', c.phone, 'mail', c.mail, 'hearBy', c.hear_by)) AS call
    FROM job j JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id JOIN customer c ON c.id = j.customer_id
    WHERE ${due} AND (${after?.day ?? null}::date IS NULL OR (${goneOn}, j.id) > (${after?.day ?? null}::date, ${after?.id ?? null}::uuid))
    ORDER BY ${goneOn}, j.id LIMIT ${pageLength(asked.limit) + 1}`
  const [count] = await db.prisma.$queryRaw<{ due: number }[]>`SELECT count(*)::int AS due FROM job j WHERE ${due}`
  const page = pageFrom(
    rows.map((row) => row.call),
    asked.limit,
    (row) => dayCursorOf({ day: row.goneOn, id: row.id }),
  )
  return { ...page, due: count?.due ?? 0 }
}
