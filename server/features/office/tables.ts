/** The figures of the office as tables: stable names of columns with their units, one row a line. */
import type { OfficeComebacks, OfficeRunning } from '#contract/office-came-back.ts'
import type { OfficeCrank } from '#contract/office-cranks.ts'
import type { OfficeEarning } from '#contract/office-earns.ts'
import type { OfficeFirstCheck } from '#contract/office-first-check.ts'
import type { OfficeFlow } from '#contract/office-flow.ts'
import type { OfficeToday } from '#contract/office-today.ts'
import type { CsvColumn } from '#server/plugins/csv.ts'

type Row<List extends readonly unknown[]> = List[number]

/** A column that is named after the field that it shows. */
function plain<Data, Name extends keyof Data & string>(id: string, name: Name): CsvColumn<Data> {
  return { id, cell: (row) => row[name] as string | number | boolean | undefined }
}

type Late = Row<OfficeToday['late']['rows']>
export const LATE: readonly CsvColumn<Late>[] = [
  plain('tag', 'tag'),
  plain('engine', 'engine'),
  plain('customer', 'whose'),
  plain('kind', 'kind'),
  plain('state', 'state'),
  plain('promised_on', 'promisedOn'),
  plain('late_days', 'daysLate'),
  { id: 'why', cell: (row) => row.reasons.join('; ') },
  plain('told_late', 'toldLate'),
]

type Promised = Row<OfficeToday['promised']['rows']>
export const PROMISED: readonly CsvColumn<Promised>[] = [
  plain('tag', 'tag'),
  plain('engine', 'engine'),
  plain('customer', 'whose'),
  plain('kind', 'kind'),
  plain('state', 'state'),
  plain('promised_on', 'promisedOn'),
  plain('expected_h', 'expectedHours'),
  plain('clocked_h', 'clockedHours'),
  plain('left_h', 'leftHours'),
  plain('expected_from', 'basis'),
]

type Waiting = Row<OfficeToday['waiting']['rows']>
export const WAITING: readonly CsvColumn<Waiting>[] = [
  plain('tag', 'tag'),
  plain('engine', 'engine'),
  plain('customer', 'whose'),
  plain('state', 'state'),
  plain('waits_for', 'what'),
  plain('what_exactly', 'note'),
  plain('since_utc', 'since'),
  plain('waiting_days', 'days'),
  plain('due_on', 'dueOn'),
]

type Ready = Row<OfficeToday['ready']['rows']>
export const READY: readonly CsvColumn<Ready>[] = [
  plain('tag', 'tag'),
  plain('engine', 'engine'),
  plain('customer', 'whose'),
  plain('ready_since_utc', 'readySince'),
  plain('ready_days', 'days'),
  plain('goes_by', 'goesBy'),
  plain('owes_minor', 'owesMinor'),
]

type Instrument = Row<OfficeToday['instruments']['rows']>
export const INSTRUMENTS: readonly CsvColumn<Instrument>[] = [
  plain('name', 'name'),
  plain('kind', 'kind'),
  plain('due_on', 'dueOn'),
  plain('overdue', 'overdue'),
]

type Week = Row<OfficeFlow['weeks']>
export const FLOW: readonly CsvColumn<Week>[] = [
  plain('week', 'week'),
  plain('monday', 'from'),
  plain('in_cranks', 'in'),
  plain('out_cranks', 'out'),
]

interface Share {
  by: string
  name: string
  n: number
  count: number
  share?: number | undefined
  wilson?: { low: number; high: number } | undefined
}
export const FIRST_CHECK: readonly CsvColumn<Share>[] = [
  plain('by', 'by'),
  plain('name', 'name'),
  plain('checked_cranks', 'n'),
  plain('within_cranks', 'count'),
  plain('within_share', 'share'),
  { id: 'wilson_low_share', cell: (row) => row.wilson?.low },
  { id: 'wilson_high_share', cell: (row) => row.wilson?.high },
]
export function firstCheckRows(figure: OfficeFirstCheck): Share[] {
  return [
    { by: 'all', name: 'all', ...figure.all },
    ...figure.byPerson.map((row) => ({ ...row, by: 'person' })),
    ...figure.byEngine.map((row) => ({ ...row, by: 'engine' })),
    ...figure.byMonth.map((row) => ({ ...row, by: 'month', name: row.month })),
  ]
}

type Back = Omit<Row<OfficeComebacks['rows']>, 'key'> & { key: string | null }
export const COMEBACKS: readonly CsvColumn<Back>[] = [
  plain('name', 'name'),
  plain('gone_cranks', 'n'),
  plain('back_cranks', 'back'),
  plain('back_per_hundred', 'perHundred'),
  { id: 'wilson_low_share', cell: (row) => row.wilson?.low },
  { id: 'wilson_high_share', cell: (row) => row.wilson?.high },
  plain('gone_under_12_months_cranks', 'young'),
  { id: 'fisher_p', cell: (row) => row.lot?.p },
  { id: 'holm_p', cell: (row) => row.lot?.pHolm },
  { id: 'not_chance', cell: (row) => row.lot?.notChance },
  { id: 'still_out_cranks', cell: (row) => row.lot?.stillOut },
]
export function comebackRows(figure: OfficeComebacks): Back[] {
  return [{ key: null, name: 'all', ...figure.all }, ...figure.rows]
}

interface RunningStep {
  curve: string
  hours: number
  atRisk?: number
  back?: number
  running?: number
  low?: number | undefined
  high?: number | undefined
  heard?: number
}
export const RUNNING: readonly CsvColumn<RunningStep>[] = [
  plain('curve', 'curve'),
  plain('ridden_h', 'hours'),
  plain('at_risk_cranks', 'atRisk'),
  plain('back_cranks', 'back'),
  plain('running_share', 'running'),
  plain('low_share', 'low'),
  plain('high_share', 'high'),
  plain('last_heard_cranks', 'heard'),
]
export function runningRows(figure: OfficeRunning): RunningStep[] {
  return figure.curves.flatMap(({ name, steps, heard }) => [
    ...steps.map((step) => ({ curve: name, ...step })),
    ...heard.map(({ hours, count }) => ({ curve: name, hours, heard: count })),
  ])
}

type Earns = Omit<Row<OfficeEarning['rows']>, 'id'>
export const EARNING: readonly CsvColumn<Earns>[] = [
  plain('engine', 'name'),
  plain('rebuilt_cranks', 'n'),
  plain('mean_bench_h', 'meanHours'),
  plain('mean_price_minor', 'meanPriceMinor'),
  plain('price_per_hour_minor', 'perHourMinor'),
  plain('against_shop_ratio', 'againstShop'),
]
export function earningRows(figure: OfficeEarning): Earns[] {
  return [{ name: 'all', ...figure.all, againstShop: 1 }, ...figure.rows]
}

export const CRANKS: readonly CsvColumn<OfficeCrank>[] = [
  plain('tag', 'tag'),
  plain('number', 'number'),
  plain('kind', 'kind'),
  plain('state', 'state'),
  plain('engine', 'engine'),
  plain('customer', 'whose'),
  plain('booked_on', 'bookedOn'),
  plain('promised_on', 'promisedOn'),
  plain('out_on', 'outOn'),
  plain('in_house_days', 'days'),
  plain('trued_by', 'truedBy'),
  plain('kit', 'lot'),
  plain('checked_on', 'checkedOn'),
  plain('first_check', 'firstCheck'),
  plain('back_on', 'backOn'),
  plain('back_h', 'backHours'),
  plain('cause', 'cause'),
  plain('last_heard_h', 'heardHours'),
  plain('bench_h', 'benchHours'),
  plain('price_minor', 'priceMinor'),
  plain('owes_minor', 'owesMinor'),
  plain('deposit_minor', 'depositMinor'),
  plain('waiting_since_utc', 'waitingSince'),
]
