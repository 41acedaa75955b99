/** The lines of today, read in one statement from the jobs as they stand; open work is found by the index of open states. */
import type { Instrument } from '#contract/instruments.ts'
import { LAST_CRANKS } from '#core/office-hours.ts'
import { INSTRUMENT_DAYS } from '#core/office-rules.ts'
import type { JobKind, Step, WaitingFor } from '#core/steps.ts'
import { wireInstant } from '#server/features/events/store.ts'
import { DEPOSIT_HELD, OWES } from '#server/features/money/store.ts'
import type { Db } from '#server/plugins/database.ts'
import { HOUSE, newValues, type Today, UNSIGNED, unpaid, type Values } from './counted.ts'
import { liveWhere } from './filters.ts'
import { ask } from './statement.ts'

interface Head {
  id: string
  tag: string
  engine: string
  whose: string
  kind: JobKind
  state: Step
}

export interface WaitRow {
  what: WaitingFor
  note: string | null
  since: string
  sinceOn: string
  dueOn: string | null
}

export interface LateRow extends Head {
  promisedOn: string
  stepOn: string
  waits: WaitRow[]
  apartLeft: number
  apartRight: number
  stepsBack: string[]
  lastPass: string | null
  holder: string | null
  toldLate: boolean
}

export interface PromisedRow extends Head {
  promisedOn: string
  engineId: string
  clockedSeconds: number
}

export interface LastHours {
  kind: JobKind
  engineId: string | null
  seconds: number[]
}

export interface TodayRows {
  late: { n: number; rows: LateRow[] | null }
  /** Promised up to the end of this week and not yet signed. */
  promised: PromisedRow[] | null
  lasted: LastHours[] | null
  clockedSeconds: number
  waiting: {
    n: number
    of: { what: WaitingFor; n: number; oldestSince: string; oldestOn: string }[] | null
    rows: (Head & WaitRow)[] | null
  }
  ready: {
    n: number
    owesMinor: number
    oldestOn: string | null
    rows: (Head & { readySince: string; readyOn: string; owesMinor: number | null; goesBy: 'counter' | 'carrier' })[] | null
  }
  instruments: { id: string; name: string; kind: Instrument['kind']; dueOn: string }[] | null
  proof: { at: string | null; lastHeld: boolean | null; lastAt: string | null; lastSays: string | null }
  money: Record<'deposits' | 'doneNotCollected' | 'unpaid', { n: number; minor: number }>
  inHand: number
}

const HEAD = `j.id, j.tag, e.maker || ' ' || e.code AS engine, u.name AS whose, j.kind, j.state`
const OF = 'JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id JOIN customer u ON u.id = j.customer_id'
const instant = (column: string) => wireInstant(column).sql

export interface Asked extends Today {
  now: Date
  /** Rows of each list. */
  limit: number
}

export async function todayRows(db: Pick<Db, 'pool'>, asked: Asked): Promise<TodayRows> {
  const values = newValues()
  const zone = values.add(asked.zone, 'text')
  const now = values.add(asked.now, 'timestamptz')
  const limit = values.add(asked.limit, 'int')
  const parts: Record<keyof TodayRows, string> = {
    late: late(asked, values, { zone, limit }),
    promised: promised(asked, values, now),
    lasted: lasted(asked, values),
    clockedSeconds: clocked(asked, values, { zone, now }),
    waiting: waiting(asked, values, { zone, limit }),
    ready: ready(asked, values, { zone, limit }),
    instruments: instruments(asked, values),
    proof: PROOF,
    money: money(asked, values),
    inHand: `SELECT count(*) FROM job j WHERE ${HOUSE}`,
  }
  const columns = Object.entries(parts).map(([name, text]) => `(${text}) AS "${name}"`)
  const [row] = await ask<TodayRows>(db, `SELECT row_to_json(t) AS today FROM (SELECT ${columns.join(', ')}) t`, values).then((rows) =>
    rows.map((each) => (each as unknown as { today: TodayRows }).today),
  )
  return row!
}

const day = (column: string, zone: string) => `(${column} AT TIME ZONE ${zone})::date`
const apart = (side: string) =>
  `(SELECT coalesce(max(x.times), 0) FROM (SELECT count(*) AS times FROM pressing WHERE job_id = j.id AND direction = 'apart' AND side = '${side}' AND struck_at IS NULL GROUP BY joint) x)`
const stepAt = `(SELECT max(s.at) FROM job_step s WHERE s.job_id = j.id AND s.step = j.state AND s.undone_at IS NULL)`

function late(today: Today, values: Values, { zone, limit }: { zone: string; limit: string }): string {
  const where = liveWhere('late', {}, today, values)
  const waits = `SELECT json_agg(json_build_object('what', w.what, 'note', w.note, 'since', ${instant('w.since')}, 'sinceOn', ${day('w.since', zone)},
    'dueOn', w.due_on) ORDER BY w.since, w.id) FROM job_wait w WHERE w.job_id = j.id AND w.ended_at IS NULL`
  const rows = `SELECT ${HEAD}, j.promised_on AS "promisedOn", ${day(`coalesce(${stepAt}, j.booked_at)`, zone)} AS "stepOn", coalesce((${waits}), '[]') AS waits,
    ${apart('left')} AS "apartLeft", ${apart('right')} AS "apartRight",
    coalesce((SELECT json_agg(v.says ORDER BY v.seq) FROM job_event v WHERE v.job_id = j.id AND v.kind = 'step-back'), '[]') AS "stepsBack",
    (SELECT x.what FROM job_pass x WHERE x.job_id = j.id ORDER BY x.at DESC, x.id DESC LIMIT 1) AS "lastPass", h.name AS holder,
    EXISTS (SELECT 1 FROM job_event v WHERE v.job_id = j.id AND v.kind = 'told'
      AND v.occurred_at >= (j.promised_on + 1)::timestamp AT TIME ZONE ${zone}) AS "toldLate"
    FROM (SELECT * FROM job j WHERE ${where} ORDER BY j.promised_on, j.id LIMIT ${limit}) j ${OF} LEFT JOIN person h ON h.id = j.holder_id`
  return `SELECT json_build_object('n', (SELECT count(*) FROM job j WHERE ${where}),
    'rows', (SELECT json_agg(r ORDER BY r."promisedOn", r.id) FROM (${rows}) r))`
}

/** Up to the end of this week: those promised before it are late, and ask for their hours too. */
const upTo = (today: Today, values: Values) => `${UNSIGNED} AND j.promised_on <= ${values.add(today.sunday, 'date')}`

function promised(today: Today, values: Values, now: string): string {
  return `SELECT json_agg(r ORDER BY r."promisedOn", r.id) FROM (SELECT ${HEAD}, j.promised_on AS "promisedOn", k.engine_id AS "engineId",
    (SELECT coalesce(sum(extract(epoch FROM coalesce(c.stopped_at, ${now}) - c.started_at)), 0)::float8 FROM clock_entry c WHERE c.job_id = j.id) AS "clockedSeconds"
    FROM job j ${OF} WHERE ${upTo(today, values)}) r`
}

/** Bench hours of the last cranks that went home, for each engine and kind that is promised, and for each kind. */
function lasted(today: Today, values: Values): string {
  const wanted = `SELECT DISTINCT j.kind, k.engine_id FROM job j JOIN crank k ON k.id = j.crank_id WHERE ${upTo(today, values)}`
  const last = (where: string) => `SELECT json_agg(x.bench_seconds) FROM (SELECT f.bench_seconds FROM office_job f
    WHERE ${where} AND f.bench_seconds > 0 AND f.gone_on IS NOT NULL ORDER BY f.gone_on DESC, f.job_id LIMIT ${LAST_CRANKS}) x`
  return `WITH wanted AS (${wanted}) SELECT json_agg(r) FROM (
    SELECT w.kind, w.engine_id AS "engineId", coalesce((${last('f.kind = w.kind AND f.engine_id = w.engine_id')}), '[]') AS seconds FROM wanted w
    UNION ALL SELECT w.kind, NULL, coalesce((${last('f.kind = w.kind')}), '[]') FROM (SELECT DISTINCT kind FROM wanted) w) r`
}

function clocked({ monday }: Today, values: Values, { zone, now }: { zone: string; now: string }): string {
  return `SELECT coalesce(sum(extract(epoch FROM coalesce(c.stopped_at, ${now}) - c.started_at)), 0)::float8 FROM clock_entry c
    WHERE c.started_at >= ${values.add(monday, 'date')}::timestamp AT TIME ZONE ${zone} AND c.started_at <= ${now}`
}

function waiting(today: Today, values: Values, { zone, limit }: { zone: string; limit: string }): string {
  const open = `FROM job_wait w JOIN job j ON j.id = w.job_id`
  const where = `w.ended_at IS NULL AND ${HOUSE}`
  const of = `SELECT w.what, count(*) AS n, min(w.since) AS since ${open} WHERE ${where} GROUP BY w.what`
  const rows = `SELECT ${HEAD}, w.what, w.note, ${instant('w.since')} AS since, ${day('w.since', zone)} AS "sinceOn", w.due_on AS "dueOn", w.since AS at, w.id AS nth
    ${open} ${OF} WHERE ${where} ORDER BY w.since, w.id LIMIT ${limit}`
  return `SELECT json_build_object('n', (SELECT count(*) FROM job j WHERE ${liveWhere('waiting', {}, today, values)}),
    'of', (SELECT json_agg(json_build_object('what', o.what, 'n', o.n, 'oldestSince', ${instant('o.since')}, 'oldestOn', ${day('o.since', zone)})
      ORDER BY o.what) FROM (${of}) o),
    'rows', (SELECT json_agg(r ORDER BY r.at, r.nth) FROM (${rows}) r))`
}

function ready(today: Today, values: Values, { zone, limit }: { zone: string; limit: string }): string {
  const where = liveWhere('ready', {}, today, values)
  const owes = `SELECT j.id, ${OWES.sql} AS owes, ${stepAt} AS since FROM job j WHERE ${where}`
  const rows = `SELECT ${HEAD}, ${instant('o.since')} AS "readySince", ${day('o.since', zone)} AS "readyOn", o.owes AS "owesMinor", j.goes_by AS "goesBy", o.since
    FROM (${owes}) o JOIN job j ON j.id = o.id ${OF} ORDER BY o.since, j.id LIMIT ${limit}`
  return `SELECT json_build_object('n', count(*), 'owesMinor', coalesce(sum(o.owes), 0), 'oldestOn', min(${day('o.since', zone)}),
    'rows', (SELECT json_agg(r ORDER BY r.since, r.id) FROM (${rows}) r)) FROM (${owes}) o`
}

function instruments({ today }: Today, values: Values): string {
  return `SELECT json_agg(json_build_object('id', i.id, 'name', i.name, 'kind', i.kind, 'dueOn', i.due_on) ORDER BY i.due_on, i.name)
    FROM instrument i WHERE i.ended_at IS NULL AND i.due_on <= ${values.add(today, 'date')} + ${INSTRUMENT_DAYS}`
}

const DRILLS = `FROM proof p WHERE p.kind = 'drill' AND p.ended_at IS NOT NULL`
const PROOF = `SELECT json_build_object('at', (SELECT ${instant('p.ended_at')} ${DRILLS} AND p.held ORDER BY p.started_at DESC LIMIT 1),
  'lastHeld', l.held, 'lastAt', ${instant('l.ended_at')}, 'lastSays', l.says)
  FROM (SELECT 1) one LEFT JOIN LATERAL (SELECT p.held, p.ended_at, p.says ${DRILLS} ORDER BY p.started_at DESC LIMIT 1) l ON true`

function money(today: Today, values: Values): string {
  const sum = (minor: string, from: string) =>
    `(SELECT json_build_object('n', count(*), 'minor', coalesce(sum(x.minor), 0)) FROM (SELECT ${minor} AS minor FROM ${from}) x)`
  return `SELECT json_build_object('deposits', ${sum(DEPOSIT_HELD.sql, `job j WHERE ${liveWhere('deposits', {}, today, values)}`)},
    'doneNotCollected', ${sum(OWES.sql, `job j WHERE ${liveWhere('done-not-collected', {}, today, values)}`)},
    'unpaid', ${sum('f.owes_minor', `office_job f WHERE ${unpaid(today, values)}`)})`
}
