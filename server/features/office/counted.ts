/**
 * What each figure of the office counts: the one place from which its sums, its list of cranks and a plain recount are
 * made. SQL only; j is the job, f its row of office_job.
 */
import { isLate } from '#core/calendar.ts'
import { type ComebackKey, type CrankFigure, UNPAID_DAYS } from '#core/office-rules.ts'
import { STEPS, type WaitingFor } from '#core/steps.ts'
import { DEPOSIT_HELD, OWES } from '#server/features/money/store.ts'

/** Values of one statement, in the order in which it names them. */
export interface Values {
  list: unknown[]
  /** Takes a value in and answers how the statement names it. */
  add(value: unknown, type: string): string
}

export function newValues(): Values {
  const list: unknown[] = []
  return { list, add: (value, type) => `$${list.push(value)}::${type}` }
}

const quoted = (words: readonly string[]) => words.map((word) => `'${word}'`).join(', ')
const IN_THE_HOUSE = STEPS.filter((step) => step !== 'gone')
/** States in which a broken promise counts, as core decides it. */
const CAN_BE_LATE = IN_THE_HOUSE.filter((state) => isLate({ promised: '2000-01-01', today: '2000-01-02', state }))

export const HOUSE = `j.state IN (${quoted(IN_THE_HOUSE)})`
/** Not yet signed, so that a promise still binds. */
export const UNSIGNED = `j.state IN (${quoted(CAN_BE_LATE)})`
const READY = `j.state = 'signed'`

/** The day and the week that the lists of today are about, in the zone of the shop. */
export interface Today {
  zone: string
  today: string
  monday: string
  sunday: string
}

/** Counted from the jobs as they stand now. */
export const LIVE = {
  house: () => HOUSE,
  late: ({ today }, values) => `${UNSIGNED} AND j.promised_on < ${values.add(today, 'date')}`,
  promised: ({ monday, sunday }, values) =>
    `${UNSIGNED} AND j.promised_on BETWEEN ${values.add(monday, 'date')} AND ${values.add(sunday, 'date')}`,
  waiting: () => `${HOUSE} AND ${waitsFor()}`,
  ready: () => READY,
  deposits: () => `${HOUSE} AND ${DEPOSIT_HELD.sql} > 0`,
  'done-not-collected': () => `${READY} AND ${OWES.sql} > 0`,
} as const satisfies Partial<Record<CrankFigure, (today: Today, values: Values) => string>>
export type LiveFigure = keyof typeof LIVE

export function waitsFor(what?: WaitingFor): string {
  return `EXISTS (SELECT 1 FROM job_wait w WHERE w.job_id = j.id AND w.ended_at IS NULL${what === undefined ? '' : ` AND w.what = '${what}'`})`
}

export type FactFigure = Exclude<CrankFigure, LiveFigure>

interface Fact {
  /** Column of the day that it is counted by; null where it is counted whenever it was. */
  day: string | null
  counts: string
}

/** Counted from the rows of office_job. */
export const FACTS: Readonly<Record<Exclude<FactFigure, 'unpaid'>, Fact>> = {
  in: { day: 'f.booked_on', counts: 'true' },
  out: { day: 'f.out_on', counts: 'f.out_on IS NOT NULL' },
  'first-check': { day: 'f.checked_on', counts: 'f.checked_on IS NOT NULL' },
  comebacks: { day: 'f.gone_on', counts: 'f.gone_on IS NOT NULL' },
  running: { day: null, counts: 'f.gone_on IS NOT NULL AND f.lot_id IS NOT NULL' },
  'still-out': { day: null, counts: 'f.still_out' },
  earning: {
    day: 'f.gone_on',
    counts: `f.kind = 'rebuild' AND f.gone_on IS NOT NULL AND f.bench_seconds > 0 AND f.price_minor IS NOT NULL`,
  },
}

/** The one fact figure that depends on the day it is read. */
export function unpaid({ today }: Today, values: Values): string {
  return `f.owes_minor > 0 AND f.gone_on < ${values.add(today, 'date')} - ${UNPAID_DAYS}`
}

/** What the rows of a figure are told apart by, as a text; '' where it is not known. */
export const KEYS = {
  all: `''`,
  kind: 'f.kind',
  engine: 'f.engine_id::text',
  person: `coalesce(f.trued_by::text, '')`,
  lot: `coalesce(f.lot_id::text, '')`,
  cause: `coalesce(f.cause, '')`,
} as const satisfies Record<ComebackKey | 'all' | 'kind', string>
export type Key = keyof typeof KEYS

/** Hours of a crank on the curve of what still runs: back at hours nobody knows, and never heard of, have places of their own. */
export const BACK_NO_HOURS = -1
export const NEVER_HEARD_OF = -2
// A failure comes after 0: one at once falls at the first hour.
const RUNNING_AT = `CASE WHEN f.back_on IS NULL THEN coalesce(ceil(f.heard_hours)::int, ${NEVER_HEARD_OF})
  WHEN f.back_hours IS NULL THEN ${BACK_NO_HOURS} ELSE greatest(1, ceil(f.back_hours)::int) END`

interface Kept {
  figure: Exclude<FactFigure, 'unpaid'>
  by: Key
  at?: string
  hit?: string
  amount?: string
  minor?: string
  /** Counted under this key only where that holds too. */
  only?: string
}

const CHECKED = { figure: 'first-check', hit: 'f.first_within' } as const
const GONE = { figure: 'comebacks', hit: 'f.came_back' } as const
const RUNNING = { figure: 'running', at: RUNNING_AT, hit: 'f.back_on IS NOT NULL AND f.back_hours IS NOT NULL' } as const
const EARNING = { figure: 'earning', amount: 'f.bench_seconds', minor: 'f.price_minor' } as const

/** Days in the house. A clock that ran wrong may have let it leave before it came: that is no day. */
export const DAYS_HERE = 'greatest(0, f.out_on - f.booked_on)'

/** The sums that are kept. */
const KEPT: readonly Kept[] = [
  { figure: 'in', by: 'kind' },
  { figure: 'out', by: 'kind', at: DAYS_HERE },
  { ...CHECKED, by: 'all' },
  { ...CHECKED, by: 'engine' },
  { ...CHECKED, by: 'person' },
  { ...GONE, by: 'all' },
  { ...GONE, by: 'engine' },
  { ...GONE, by: 'person' },
  { ...GONE, by: 'lot' },
  { ...GONE, by: 'cause', only: 'f.came_back' },
  { ...RUNNING, by: 'all' },
  { ...RUNNING, by: 'lot' },
  { figure: 'still-out', by: 'lot' },
  { ...EARNING, by: 'all' },
  { ...EARNING, by: 'engine' },
]

/** The stretch of what is counted whenever it was. */
export const ANY_DAY = '1970-01-01'

/** As core's stretchStart: the Monday of a day or the first of its month, whichever is later. */
function stretchOf(day: string | null): string {
  return day === null
    ? `'${ANY_DAY}'::date`
    : `greatest(date_trunc('week', ${day}::timestamp), date_trunc('month', ${day}::timestamp))::date`
}

/** For each row of office_job or of its shape, named f: the sums that it counts in. To be joined laterally. */
export const COUNTED_IN = `(VALUES ${KEPT.map(({ figure, by, at, hit, amount, minor, only }) => {
  const { day, counts } = FACTS[figure]
  const holds = only === undefined ? counts : `${counts} AND ${only}`
  return `('${figure}', '${by}', ${stretchOf(day)}, ${KEYS[by]}, ${at ?? '0'}, coalesce(${holds}, false), coalesce(${hit ?? 'false'}, false)::int, ${amount ?? '0'}::bigint, ${minor ?? '0'}::bigint)`
}).join(', ')}) AS c (figure, "by", stretch, key, "at", counts, hit, amount, minor)`

/** What office_sum has to hold, counted anew from office_job; for checking. */
export const PLAIN_SUMS = `SELECT c.figure, c."by", c.stretch, c.key, c."at", count(*)::int AS n, sum(c.hit)::int AS hits, sum(c.amount)::float8 AS amount, sum(c.minor)::float8 AS minor
  FROM office_job f CROSS JOIN LATERAL ${COUNTED_IN} WHERE c.counts GROUP BY 1, 2, 3, 4, 5`
