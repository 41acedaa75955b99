/** The cranks behind a figure: the same condition as the figure itself, newest tag first. */
import type { OfficeCrank } from '#contract/office-cranks.ts'
import type { CrankFigure } from '#core/office-rules.ts'
import { wireInstant } from '#server/features/events/store.ts'
import { DEPOSIT_HELD, OWES } from '#server/features/money/store.ts'
import { numberCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import type { Db } from '#server/plugins/database.ts'
import { DAYS_HERE, newValues, type Today, type Values } from './counted.ts'
import { type CrankFilters, factsWhere, isLive, liveWhere, windowOf } from './filters.ts'
import { ask } from './statement.ts'
import { runningBy } from './store.ts'

/** Rows that are asked for at once while a whole list is written to a file. */
const FILE_PAGE = 500

/** Of the jobs named j with their rows named f: the tables, and what has to hold. */
function source(figure: CrankFigure, asked: CrankFilters, today: Today, values: Values): { from: string; where: string } {
  const window = windowOf(figure, asked, today.today)
  // The list of what is open is drawn from the jobs as they stand, which are few; the rest from its rows alone.
  return isLive(figure)
    ? { from: 'job j LEFT JOIN office_job f ON f.job_id = j.id', where: liveWhere(figure, asked, today, values) }
    : { from: 'office_job f', where: factsWhere(figure, asked, window, today, values) }
}

const WAITING_SINCE = `(SELECT ${wireInstant('min(w.since)').sql} FROM job_wait w WHERE w.job_id = j.id AND w.ended_at IS NULL)`

function rowJson(figure: CrankFigure, zone: string): string {
  return `json_strip_nulls(json_build_object('id', j.id, 'tag', j.tag, 'number', j.number, 'kind', j.kind, 'state', j.state,
    'engine', e.maker || ' ' || e.code, 'whose', u.name, 'bookedOn', coalesce(f.booked_on, (j.booked_at AT TIME ZONE ${zone})::date), 'promisedOn', j.promised_on, 'outOn', f.out_on,
    'days', CASE WHEN f.out_on IS NOT NULL THEN ${DAYS_HERE} END, 'truedBy', t.name, 'lot', m.maker || ' ' || m.part || ', lot ' || l.lot, 'checkedOn', f.checked_on,
    'firstCheck', CASE f.first_within WHEN true THEN 'within' WHEN false THEN 'over' END, 'backOn', f.back_on, 'backHours', f.back_hours::float8,
    'cause', f.cause, 'heardHours', f.heard_hours::float8, 'benchHours', CASE WHEN f.bench_seconds > 0 THEN f.bench_seconds / 3600.0 END,
    'priceMinor', f.price_minor, 'owesMinor', ${OWES.sql}, 'depositMinor', nullif(${DEPOSIT_HELD.sql}, 0)${figure === 'waiting' ? `, 'waitingSince', ${WAITING_SINCE}` : ''}))`
}

const DETAILS = `LEFT JOIN office_job f ON f.job_id = j.id JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id
  JOIN customer u ON u.id = j.customer_id LEFT JOIN person t ON t.id = f.trued_by LEFT JOIN kit_lot l ON l.id = f.lot_id LEFT JOIN kit_model m ON m.id = l.kit_model_id`

export async function countCranks(db: Pick<Db, 'pool'>, figure: CrankFigure, asked: CrankFilters, today: Today): Promise<number> {
  // All cranks that ever went home with a kit: their sum is kept.
  if (figure === 'running' && Object.values(asked).filter((value) => value !== undefined).length === 1)
    return (await runningBy(db, undefined)).reduce((sum, { n }) => sum + n, 0)
  const values = newValues()
  const { from, where } = source(figure, asked, today, values)
  const [row] = await ask<{ n: number }>(db, `SELECT count(*)::int AS n FROM ${from} WHERE ${where}`, values)
  return row?.n ?? 0
}

export async function listCranks(
  db: Pick<Db, 'pool'>,
  figure: CrankFigure,
  asked: CrankFilters & { after?: string | undefined; limit?: number | undefined },
  today: Today,
): Promise<{ rows: OfficeCrank[]; next: string | null }> {
  const values = newValues()
  const { from, where } = source(figure, asked, today, values)
  const [id, number] = isLive(figure) ? ['j.id', 'j.number'] : ['f.job_id', 'f.number']
  const after = values.add(numberCursor(asked.after), 'int')
  const page = `SELECT ${id} AS id, ${number} AS number FROM ${from} WHERE ${where} AND (${after} IS NULL OR ${number} < ${after})
    ORDER BY ${number} DESC LIMIT ${values.add(pageLength(asked.limit) + 1, 'int')}`
  const rows = await ask<{ row: OfficeCrank }>(
    db,
    `SELECT ${rowJson(figure, values.add(today.zone, 'text'))} AS row FROM (${page}) page JOIN job j ON j.id = page.id ${DETAILS} ORDER BY page.number DESC`,
    values,
  )
  return pageFrom(
    rows.map((each) => each.row),
    asked.limit,
    (row) => String(row.number),
  )
}

/** The whole list, a page at a time. */
export async function* allCranks(
  db: Pick<Db, 'pool'>,
  figure: CrankFigure,
  asked: CrankFilters,
  today: Today,
): AsyncGenerator<OfficeCrank> {
  let after: string | undefined
  do {
    const page = await listCranks(db, figure, { ...asked, after, limit: FILE_PAGE }, today)
    yield* page.rows
    after = page.next ?? undefined
  } while (after !== undefined)
}
