/** Sums of the office, read from office_sum; with filters that it is not told apart by, from office_job by the same conditions. */
import type { ComebackKey } from '#core/office-rules.ts'
import { dayAfter, stretchEnd, yearBefore } from '#core/office-window.ts'
import type { JobKind } from '#core/steps.ts'
import type { Db } from '#server/plugins/database.ts'
import { ANY_DAY, HOUSE, KEYS, newValues, type Today } from './counted.ts'
import { type CrankFilters, factsWhere, type Window } from './filters.ts'
import { ask } from './statement.ts'

const NO_KEY = "nullif(t.key, '')"
const ENGINE_NAME = `(SELECT e.maker || ' ' || e.code FROM engine e WHERE e.id = ${NO_KEY}::uuid)`
const PERSON_NAME = `(SELECT p.name FROM person p WHERE p.id = ${NO_KEY}::uuid)`
const LOT_NAME = `(SELECT m.maker || ' lot ' || l.lot FROM kit_lot l JOIN kit_model m ON m.id = l.kit_model_id WHERE l.id = ${NO_KEY}::uuid)`

// ---- in and out -------------------------------------------------------------------------------------------------------

export interface InOut {
  figure: 'in' | 'out'
  kind: JobKind
  stretch: string
  /** Days in the house, of those that left. */
  days: number
  n: number
}

export async function inAndOut(db: Pick<Db, 'pool'>, window: Window, kind: JobKind | undefined): Promise<InOut[]> {
  return ask<InOut>(
    db,
    `SELECT figure, key AS kind, stretch::text AS stretch, "at" AS days, n::int AS n FROM office_sum
     WHERE figure IN ('in', 'out') AND "by" = 'kind' AND stretch BETWEEN $1::date AND $2::date AND ($3::text IS NULL OR key = $3) AND n <> 0`,
    [window.from, window.to, kind ?? null],
  )
}

export async function inHand(db: Pick<Db, 'pool'>, kind: JobKind | undefined): Promise<number> {
  const [row] = await ask<{ n: number }>(db, `SELECT count(*)::int AS n FROM job j WHERE ${HOUSE} AND ($1::text IS NULL OR j.kind = $1)`, [
    kind ?? null,
  ])
  return row?.n ?? 0
}

// ---- true at first check -------------------------------------------------------------------------------------------------

export interface Hits {
  key: string
  name: string | null
  n: number
  hits: number
}

export interface FirstCheckSums {
  byEngine: Hits[]
  byPerson: Hits[]
  /** Key: the month, YYYY-MM. */
  byMonth: Hits[]
}

export async function firstChecks(
  db: Pick<Db, 'pool'>,
  window: Window,
  asked: Pick<CrankFilters, 'engine' | 'person'>,
  today: Today,
): Promise<FirstCheckSums> {
  const isFiltered = asked.engine !== undefined || asked.person !== undefined
  const [byEngine, byPerson, byMonth] = await Promise.all(
    (['engine', 'person', 'month'] as const).map((by) =>
      isFiltered ? checksOfFacts(db, by, window, asked, today) : checksOfSums(db, by, window),
    ),
  )
  return { byEngine: byEngine!, byPerson: byPerson!, byMonth: byMonth! }
}

const CHECK_NAMES = { engine: ENGINE_NAME, person: PERSON_NAME, month: 'NULL::text' } as const

async function checksOfSums(db: Pick<Db, 'pool'>, by: keyof typeof CHECK_NAMES, window: Window): Promise<Hits[]> {
  const key = by === 'month' ? `to_char(stretch, 'YYYY-MM')` : 'key'
  return ask<Hits>(
    db,
    `SELECT t.key, ${CHECK_NAMES[by]} AS name, t.n, t.hits FROM (
       SELECT ${key} AS key, sum(n)::int AS n, sum(hits)::int AS hits FROM office_sum
       WHERE figure = 'first-check' AND "by" = '${by === 'month' ? 'all' : by}' AND stretch BETWEEN $1::date AND $2::date GROUP BY 1 HAVING sum(n) <> 0) t
     ORDER BY t.n DESC, t.key`,
    [window.from, window.to],
  )
}

async function checksOfFacts(
  db: Pick<Db, 'pool'>,
  by: keyof typeof CHECK_NAMES,
  window: Window,
  asked: Pick<CrankFilters, 'engine' | 'person'>,
  today: Today,
): Promise<Hits[]> {
  const values = newValues()
  const where = factsWhere('first-check', asked, window, today, values)
  const key = by === 'month' ? `to_char(f.checked_on, 'YYYY-MM')` : KEYS[by]
  return ask<Hits>(
    db,
    `SELECT t.key, ${CHECK_NAMES[by]} AS name, t.n, t.hits FROM (
       SELECT ${key} AS key, count(*)::int AS n, count(*) FILTER (WHERE f.first_within)::int AS hits FROM office_job f WHERE ${where} GROUP BY 1) t
     ORDER BY t.n DESC, t.key`,
    values,
  )
}

// ---- what came back --------------------------------------------------------------------------------------------------------

export interface BackRow {
  key: string
  n: number
  hits: number
  /** Of the n, gone less than 12 months ago. */
  young: number
}

/** Names of engines, people or lots, by their ids. */
export async function namesOf(
  db: Pick<Db, 'pool'>,
  of: 'engine' | 'person' | 'lot',
  keys: readonly string[],
): Promise<Map<string, string>> {
  const name = { engine: ENGINE_NAME, person: PERSON_NAME, lot: LOT_NAME }[of]
  const rows = await ask<{ key: string; name: string | null }>(db, `SELECT t.key, ${name} AS name FROM unnest($1::text[]) AS t (key)`, [
    keys,
  ])
  return new Map(rows.map((row) => [row.key, row.name ?? '']))
}

/** Cranks gone in the window and those back, by key. By cause, n is those that came back alone. */
export async function comebacksBy(db: Pick<Db, 'pool'>, by: ComebackKey | 'all', window: Window, today: Today): Promise<BackRow[]> {
  const youngFrom = dayAfter(yearBefore(today.today), 1)
  const edge = stretchEnd(youngFrom)
  const values = newValues()
  const from = values.add(window.from, 'date')
  const to = values.add(window.to, 'date')
  // The stretch in which the twelve months end is counted day by day, those after it whole.
  const atEdge = factsWhere('comebacks', by === 'cause' ? { back: 'yes' } : {}, { from: youngFrom, to: edge }, today, values)
  return ask<BackRow>(
    db,
    `SELECT key, sum(n)::int AS n, sum(hits)::int AS hits, sum(young)::int AS young FROM (
       SELECT key, n, hits, CASE WHEN stretch > ${values.add(edge, 'date')} THEN n ELSE 0 END AS young FROM office_sum
       WHERE figure = 'comebacks' AND "by" = '${by}' AND stretch BETWEEN ${from} AND ${to}
       UNION ALL SELECT ${KEYS[by]}, 0, 0, 1 FROM office_job f WHERE ${atEdge} AND f.gone_on BETWEEN ${from} AND ${to}) parts
     GROUP BY key HAVING sum(n) <> 0 ORDER BY sum(hits) DESC, sum(n) DESC, key`,
    values,
  )
}

/** Cranks out running with a kit of these lots now. */
export async function stillOut(db: Pick<Db, 'pool'>, lots: readonly string[]): Promise<Map<string, number>> {
  const rows = await ask<{ key: string; n: number }>(
    db,
    `SELECT key, n::int AS n FROM office_sum WHERE figure = 'still-out' AND "by" = 'lot' AND stretch = '${ANY_DAY}' AND key = ANY ($1::text[])`,
    [lots],
  )
  return new Map(rows.map(({ key, n }) => [key, n]))
}

// ---- still running -----------------------------------------------------------------------------------------------------------

export interface RunningRow {
  hours: number
  n: number
  hits: number
}

/** All cranks that went home with a kit, or those with one of this lot, by the hours that core's curve takes. */
export async function runningBy(db: Pick<Db, 'pool'>, lot: string | undefined): Promise<RunningRow[]> {
  return ask<RunningRow>(
    db,
    `SELECT "at" AS hours, n::int AS n, hits::int AS hits FROM office_sum
     WHERE figure = 'running' AND "by" = '${lot === undefined ? 'all' : 'lot'}' AND key = $1 AND stretch = '${ANY_DAY}' AND n <> 0`,
    [lot ?? ''],
  )
}

// ---- what earns ----------------------------------------------------------------------------------------------------------------

export interface EarningRow {
  key: string
  name: string | null
  n: number
  seconds: number
  minor: number
}

export async function earningBy(db: Pick<Db, 'pool'>, by: 'all' | 'engine', window: Window): Promise<EarningRow[]> {
  return ask<EarningRow>(
    db,
    `SELECT t.key, ${by === 'engine' ? ENGINE_NAME : 'NULL::text'} AS name, t.n, t.seconds, t.minor FROM (
       SELECT key, sum(n)::int AS n, sum(amount)::float8 AS seconds, sum(minor)::float8 AS minor FROM office_sum
       WHERE figure = 'earning' AND "by" = '${by}' AND stretch BETWEEN $1::date AND $2::date GROUP BY key HAVING sum(n) <> 0) t`,
    [window.from, window.to],
  )
}
