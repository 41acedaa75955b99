import type { z } from 'zod'
import type { Comeback, ComebackRow, comebackQuery, sameLotRow } from '#contract/comebacks.ts'
import { daysBetween } from '#core/calendar.ts'
import { comebackCounts } from '#core/comeback.ts'
import type { Finding } from '#core/comeback-findings.ts'
import type { JobKind, JobState } from '#core/steps.ts'
import { Prisma } from '#prisma/client/client.ts'
import { wireInstant } from '#server/features/events/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { dayCursor, dayCursorOf, numberCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import { fieldFault } from '#server/plugins/errors.ts'
import { dateColumn } from '#server/plugins/shop-day.ts'

type Reader = Tx | Db['prisma']
type SameLotRow = z.infer<typeof sameLotRow>

/** Who reads: whether names are shown, and the zone that days are said in. */
export interface ReadBy {
  seesCustomers: boolean
  zone: string
}

export interface JobToReport {
  id: string
  tag: string
  kind: JobKind
  state: JobState
  goneOn: string | null
}

/** What reporting asks of a job; the row stays locked until the end of the act. */
export async function lockJobToReport(tx: Tx, id: string, zone: string): Promise<JobToReport | null> {
  const [row] = await tx.$queryRaw<JobToReport[]>`
    SELECT j.id, j.tag, j.kind, j.state, to_char(j.gone_at AT TIME ZONE ${zone}, 'YYYY-MM-DD') AS "goneOn" FROM job j WHERE j.id = ${id}::uuid FOR UPDATE`
  return row ?? null
}

export async function readJobToReport(db: Reader, id: string, zone: string): Promise<JobToReport | null> {
  const [row] = await db.$queryRaw<JobToReport[]>`
    SELECT j.id, j.tag, j.kind, j.state, to_char(j.gone_at AT TIME ZONE ${zone}, 'YYYY-MM-DD') AS "goneOn" FROM job j WHERE j.id = ${id}::uuid`
  return row ?? null
}

export interface ReportHead {
  id: string
  day: string
  /** Tag of the job under which it is here again; null where it is not. */
  newTag: string | null
}

/** The report of a job that stands; there is at most one. */
export async function reportOf(db: Reader, jobId: string): Promise<ReportHead | null> {
  const [row] = await db.$queryRaw<ReportHead[]>`
    SELECT b.id, to_char(b.day, 'YYYY-MM-DD') AS day, n.tag AS "newTag" FROM comeback b LEFT JOIN job n ON n.id = b.new_job_id
    WHERE b.job_id = ${jobId}::uuid AND b.struck_at IS NULL`
  return row ?? null
}

/** A later job that was booked in as a comeback of this one and stands in no report; it is linked by the next report. */
export async function unreportedReturn(tx: Tx, jobId: string): Promise<string | null> {
  const [row] = await tx.$queryRaw<{ id: string }[]>`
    SELECT n.id FROM job n WHERE n.comeback_of_id = ${jobId}::uuid AND NOT EXISTS (SELECT 1 FROM comeback b WHERE b.new_job_id = n.id)
    ORDER BY n.number DESC LIMIT 1`
  return row?.id ?? null
}

export interface NewReport {
  id?: string | undefined
  jobId: string
  day: string
  how: string
  hours: number | null
  hoursHow: string
  says: string | null
  thought: string | null
  newJobId: string | null
}

export async function addReport(act: Act, report: NewReport): Promise<string> {
  const { id, day, ...rest } = report
  const made = await act.tx.comeback.create({
    data: { ...rest, day: dateColumn(day), personId: act.by.id, recordedAt: act.now, ...(id === undefined ? {} : { id }) },
    select: { id: true },
  })
  return made.id
}

/** The crank that was told of is here: the report gets its new job, and the hours where it had none. */
export async function linkNewJob(
  act: Act,
  id: string,
  newJobId: string,
  ridden: { hours: number | null; hoursHow: string },
): Promise<void> {
  await act.tx.comeback.update({ where: { id }, data: { newJobId, version: { increment: 1 } }, select: { id: true } })
  if (ridden.hours === null) return
  await act.tx.comeback.updateMany({ where: { id, hours: null }, data: { hours: ridden.hours, hoursHow: ridden.hoursHow } })
}

export interface ReportColumns {
  day: string
  hours: number | null
  hoursHow: string
  says: string | null
  found: Finding[]
  foundNote: string | null
  thought: string | null
  cause: ComebackRow['cause'] | null
  whose: ComebackRow['share'] | null
}

/** Who looked at the crank; null takes the look away, absent leaves it. */
export type Look = { lookedById: string; lookedAt: Date } | { lookedById: null; lookedAt: null }

export async function changeReport(act: Act, id: string, columns: ReportColumns, look: Look | undefined): Promise<void> {
  const { day, found, cause, whose, ...rest } = columns
  await act.tx.comeback.update({
    where: { id },
    data: { ...rest, ...look, day: dateColumn(day), found, cause: cause ?? null, whose: whose ?? null, version: { increment: 1 } },
    select: { id: true },
  })
}

/** Strikes a report out. The job under which the crank is here again is left free for a report that stands. */
export async function strikeReport(act: Act, id: string, because: string): Promise<void> {
  await act.tx.comeback.update({
    where: { id },
    data: { struckAt: act.now, struckById: act.by.id, struckBecause: because, newJobId: null, version: { increment: 1 } },
    select: { id: true },
  })
}

/** Holds a report until the end of the act; false where there is none. */
export async function lockReport(tx: Tx, id: string): Promise<boolean> {
  return (await tx.$queryRaw<unknown[]>`SELECT 1 FROM comeback WHERE id = ${id}::uuid FOR UPDATE`).length > 0
}

/** Who built the job aliased j: whoever called it together or true. */
const BUILDERS = Prisma.sql`SELECT s.person_id FROM job_step s WHERE s.job_id = j.id AND s.step IN ('together', 'trued') AND s.undone_at IS NULL`
const LOT = Prisma.sql`SELECT l.id, l.lot, f.whose, m.maker, m.part FROM kit_fitted f JOIN kit_lot l ON l.id = f.kit_lot_id JOIN kit_model m ON m.id = l.kit_model_id
  WHERE f.job_id = j.id AND f.struck_at IS NULL ORDER BY f.joint NULLS FIRST LIMIT 1`
/** The rows of a lot: a maker gives one number to a lot over several parts, and a bad lot is bad in all of them. */
const sameLot = (
  lotId: string,
) => Prisma.sql`(SELECT o.id FROM kit_lot l JOIN kit_model m ON m.id = l.kit_model_id JOIN kit_lot o ON o.lot = l.lot
  JOIN kit_model om ON om.id = o.kit_model_id AND om.maker = m.maker WHERE l.id = ${lotId}::uuid)`
/** Each crank once that has a kit of this lot in it, in whichever throw. */
const fittedFrom = (lotId: string) => Prisma.sql`(SELECT DISTINCT ON (x.job_id) x.job_id, x.whose FROM kit_fitted x
  WHERE x.kit_lot_id IN ${sameLot(lotId)} AND x.struck_at IS NULL ORDER BY x.job_id, x.joint NULLS FIRST)`
const FROM_REPORTS = Prisma.sql`FROM comeback b JOIN job j ON j.id = b.job_id JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id
  JOIN customer c ON c.id = j.customer_id JOIN person p ON p.id = b.person_id`

/** The fields of a row; names of customers are not even asked for where they are not shown. */
function rowParts({ seesCustomers, zone }: ReadBy): Prisma.Sql {
  return Prisma.sql`'id', b.id, 'job', json_build_object('id', j.id, 'tag', j.tag, 'state', j.state, 'kind', j.kind), 'engine', e.maker || ' ' || e.code, 'engineId', e.id,
  'whose', ${seesCustomers ? Prisma.sql`c.name` : Prisma.sql`NULL`}, 'day', b.day, 'how', b.how, 'hours', b.hours::float8, 'hoursHow', b.hours_how,
  'says', b.says, 'found', b.found, 'foundNote', b.found_note, 'thought', b.thought, 'cause', b.cause, 'share', b.whose,
  'goneOn', to_char(j.gone_at AT TIME ZONE ${zone}, 'YYYY-MM-DD'), 'lot', (SELECT x.lot FROM (${LOT}) x),
  'builders', coalesce((SELECT json_agg(h.name ORDER BY h.name) FROM person h WHERE h.id IN (${BUILDERS})), '[]'),
  'lookedBy', (SELECT h.name FROM person h WHERE h.id = b.looked_by_id), 'lookedAt', ${wireInstant('b.looked_at')},
  'lookedByBuilder', CASE WHEN b.looked_by_id IS NULL THEN NULL ELSE b.looked_by_id IN (${BUILDERS}) END,
  'newJob', (SELECT json_build_object('id', n.id, 'tag', n.tag, 'state', n.state) FROM job n WHERE n.id = b.new_job_id),
  'reportedBy', p.name, 'recordedAt', ${wireInstant('b.recorded_at')}, 'struck', CASE WHEN b.struck_at IS NULL THEN NULL ELSE
    json_build_object('by', coalesce((SELECT h.name FROM person h WHERE h.id = b.struck_by_id), ''), 'at', ${wireInstant('b.struck_at')}, 'because', b.struck_because) END,
  'version', b.version`
}

type ReadRow = Omit<ComebackRow, 'counts' | 'countsWhy' | 'daysSince'>

function counted<Row extends ReadRow>(row: Row): Row & Pick<ComebackRow, 'counts' | 'countsWhy' | 'daysSince'> {
  const { counts, why } = comebackCounts({ goneOn: row.goneOn ?? null, day: row.day, hours: row.hours ?? null })
  return {
    ...row,
    counts: counts && row.struck === undefined,
    countsWhy: row.struck === undefined ? why : 'It is struck out, so it does not count.',
    ...(row.goneOn === undefined ? {} : { daysSince: daysBetween(row.goneOn, row.day) }),
  }
}

export async function readRow(db: Reader, where: { jobId: string } | { newJobId: string }, by: ReadBy): Promise<ComebackRow | null> {
  const which = 'jobId' in where ? Prisma.sql`b.job_id = ${where.jobId}::uuid` : Prisma.sql`b.new_job_id = ${where.newJobId}::uuid`
  const [row] = await db.$queryRaw<{ report: ReadRow }[]>`
    SELECT json_strip_nulls(json_build_object(${rowParts(by)})) AS report ${FROM_REPORTS} WHERE ${which} AND b.struck_at IS NULL`
  return row === undefined ? null : counted(row.report)
}

/** One report with everything but our sheet; null where there is none. */
export async function readReport(db: Reader, id: string, by: ReadBy): Promise<Omit<Comeback, 'sheet'> | null> {
  const customer = by.seesCustomers
    ? Prisma.sql`, 'customer', json_build_object('id', c.id, 'name', c.name, 'phone', c.phone, 'mail', c.mail, 'hearBy', c.hear_by)`
    : Prisma.empty
  const [row] = await db.$queryRaw<{ report: ReadRow & Omit<Comeback, keyof ComebackRow> }[]>`
    SELECT json_strip_nulls(json_build_object(${rowParts(by)}, 'engineNumber', k.engine_number, 'oil', j.oil, 'usedFor', j.used_for, 'whoFits', j.who_fits,
      'kit', (SELECT json_build_object('maker', x.maker, 'part', x.part, 'lot', x.lot, 'whose', x.whose) FROM (${LOT}) x) ${customer})) AS report
    ${FROM_REPORTS} WHERE b.id = ${id}::uuid`
  return row === undefined ? null : counted(row.report)
}

/** The cursor of the list: whether it is open, then its day and id. */
function listCursor(after: string | undefined): { open: number; day: string; id: string } | null {
  if (after === undefined) return null
  const found = /^([od]) (.+)$/.exec(after)
  const rest = dayCursor(found?.[2] ?? '')
  if (rest === null || rest.day === null) throw fieldFault('#/query/after', 'cursor', 'This cursor is not one that this list gave out.')
  return { open: found?.[1] === 'o' ? 1 : 0, day: rest.day, id: rest.id }
}

/** Reports, those without a cause first and of each the newest first. */
export async function listReports(
  db: Db,
  asked: z.infer<typeof comebackQuery>,
  by: ReadBy,
): Promise<{ rows: ComebackRow[]; next: string | null; counts: { open: number; all: number } }> {
  const { list = 'all', cause = null, engine = null, person = null } = asked
  const lot = (asked.lot ?? '').trim() || null
  const after = listCursor(asked.after)
  const struck = list === 'struck' ? Prisma.sql`b.struck_at IS NOT NULL` : Prisma.sql`b.struck_at IS NULL`
  const rows = await db.prisma.$queryRaw<{ report: ReadRow }[]>`
    SELECT json_strip_nulls(json_build_object(${rowParts(by)})) AS report ${FROM_REPORTS}
    WHERE ${struck} AND (${list} <> 'open' OR b.cause IS NULL) AND (${cause}::text IS NULL OR b.cause = ${cause})
      AND (${engine}::uuid IS NULL OR k.engine_id = ${engine}::uuid) AND (${person}::uuid IS NULL OR ${person}::uuid IN (${BUILDERS}))
      AND (${lot}::text IS NULL OR EXISTS (SELECT 1 FROM (${LOT}) x WHERE lower(x.lot) = lower(${lot})))
      AND (${after?.day ?? null}::date IS NULL
        OR ((b.cause IS NULL)::int, b.day, b.id) < (${after?.open ?? null}::int, ${after?.day ?? null}::date, ${after?.id ?? null}::uuid))
    ORDER BY (b.cause IS NULL)::int DESC, b.day DESC, b.id DESC LIMIT ${pageLength(asked.limit) + 1}`
  const [counts] = await db.prisma.$queryRaw<{ open: number; all: number }[]>`
    SELECT count(*) FILTER (WHERE cause IS NULL)::int AS open, count(*)::int AS all FROM comeback WHERE struck_at IS NULL`
  const page = pageFrom(
    rows.map((row) => counted(row.report)),
    asked.limit,
    (row) => `${row.cause === undefined ? 'o' : 'd'} ${dayCursorOf(row)}`,
  )
  return { ...page, counts: counts ?? { open: 0, all: 0 } }
}

export interface SameLot {
  rows: SameLotRow[]
  next: string | null
  kit?: Comeback['kit']
  gone: number
  back: number
}

/** Every other crank with a kit of the lot of this report's job, by tag; null where there is no such report. */
export async function listSameLot(
  db: Db,
  id: string,
  asked: { after?: string | undefined; limit?: number | undefined },
  by: ReadBy,
): Promise<SameLot | null> {
  const [of] = await db.prisma.$queryRaw<{ jobId: string; lotId: string | null; kit: Comeback['kit'] | null }[]>`
    SELECT j.id AS "jobId", x.id AS "lotId", CASE WHEN x.id IS NULL THEN NULL ELSE json_build_object('maker', x.maker, 'part', x.part, 'lot', x.lot, 'whose', x.whose) END AS kit
    FROM comeback b JOIN job j ON j.id = b.job_id LEFT JOIN LATERAL (${LOT}) x ON true WHERE b.id = ${id}::uuid`
  if (of === undefined) return null
  if (of.lotId === null || of.kit == null) return { rows: [], next: null, gone: 0, back: 0 }
  const names = by.seesCustomers ? Prisma.sql`, 'whose', c.name, 'phone', c.phone, 'mail', c.mail` : Prisma.empty
  const again = Prisma.sql`EXISTS (SELECT 1 FROM job o WHERE o.crank_id = j.crank_id AND o.number > j.number)`
  const rows = await db.prisma.$queryRaw<{ number: number; crank: SameLotRow }[]>`
    SELECT j.number, json_strip_nulls(json_build_object('id', j.id, 'tag', j.tag, 'state', j.state, 'engine', e.maker || ' ' || e.code, 'kitWhose', f.whose,
      'goneOn', CASE WHEN j.state = 'gone' THEN to_char(j.gone_at AT TIME ZONE ${by.zone}, 'YYYY-MM-DD') END, 'stillOut', j.state = 'gone' AND NOT ${again},
      'lastHeard', (SELECT json_build_object('day', u.day, 'runs', u.runs, 'hours', u.hours::float8) FROM follow_up u
        WHERE u.job_id = j.id AND u.struck_at IS NULL ORDER BY u.day DESC, u.id DESC LIMIT 1),
      'comeback', (SELECT json_build_object('id', b.id, 'day', b.day, 'cause', b.cause) FROM comeback b WHERE b.job_id = j.id AND b.struck_at IS NULL)
      ${names})) AS crank
    FROM ${fittedFrom(of.lotId)} f JOIN job j ON j.id = f.job_id JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id JOIN customer c ON c.id = j.customer_id
    WHERE j.id <> ${of.jobId}::uuid
      AND j.number > coalesce(${numberCursor(asked.after)}::int, 0)
    ORDER BY j.number LIMIT ${pageLength(asked.limit) + 1}`
  const [counts] = await db.prisma.$queryRaw<{ gone: number; back: number }[]>`
    SELECT count(*)::int AS gone, count(b.id)::int AS back FROM ${fittedFrom(of.lotId)} f JOIN job j ON j.id = f.job_id
    LEFT JOIN comeback b ON b.job_id = j.id AND b.struck_at IS NULL
    WHERE j.gone_at IS NOT NULL`
  const page = pageFrom(rows, asked.limit, (row) => String(row.number))
  return { rows: page.rows.map((row) => row.crank), next: page.next, kit: of.kit, ...(counts ?? { gone: 0, back: 0 }) }
}
