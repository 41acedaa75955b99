/** What still runs by hours ridden, a lot against all other kits, from the counts that were read. */
import type { OfficeRunning } from '#contract/office-came-back.ts'
import { CRANK_RULES } from '#core/office-rules.ts'
import { type HourCount, logRankOfTwo, stillRunning } from '#core/office-running.ts'
import { BACK_NO_HOURS, NEVER_HEARD_OF } from './counted.ts'
import { cranksOf, csvOf } from './links.ts'
import type { RunningRow } from './store.ts'

type Curve = OfficeRunning['curves'][number]

export function runningOf(
  read: { all: readonly RunningRow[]; lot: readonly RunningRow[] | null },
  lot: { id: string; name: string } | undefined,
): OfficeRunning {
  const csv = csvOf('running', { lot: lot?.id })
  const n = sum(read.all)
  const base = { rule: CRANK_RULES.running, n, cranks: cranksOf('running'), csv }
  if (lot === undefined || read.lot === null) return { ...base, curves: [curveOf('all', 'all kits', read.all, cranksOf('running'))] }
  const others = without(read.all, read.lot)
  const test = logRankOfTwo(countsOf(read.lot), countsOf(others))
  return {
    ...base,
    lot,
    curves: [
      curveOf('lot', lot.name, read.lot, cranksOf('running', { lot: lot.id })),
      curveOf('others', 'all other kits', others, cranksOf('running', { notLot: lot.id })),
    ],
    ...(test === undefined ? {} : { logRank: test }),
  }
}

/** All kits less those of a lot, which are among them. */
function without(all: readonly RunningRow[], lot: readonly RunningRow[]): RunningRow[] {
  const taken = new Map(lot.map((row) => [row.hours, row]))
  return all
    .map((row) => ({ ...row, n: row.n - (taken.get(row.hours)?.n ?? 0), hits: row.hits - (taken.get(row.hours)?.hits ?? 0) }))
    .filter(({ n }) => n > 0)
}

function countsOf(rows: readonly RunningRow[]): HourCount[] {
  const byHours = new Map<number, HourCount>()
  for (const row of rows.filter(({ hours }) => hours !== BACK_NO_HOURS)) {
    const hours = Math.max(0, row.hours)
    const known = byHours.get(hours) ?? { hours, count: 0, back: 0 }
    byHours.set(hours, { hours, count: known.count + row.n, back: known.back + row.hits })
  }
  return [...byHours.values()]
}

function curveOf(group: Curve['group'], name: string, rows: readonly RunningRow[], cranks: string): Curve {
  const numberAt = (place: number) => sum(rows.filter(({ hours }) => hours === place))
  const counts = countsOf(rows)
  const { steps, medianHours } = stillRunning(counts)
  return {
    group,
    name,
    n: sum(counts.map(({ count }) => ({ n: count }))),
    back: sum(counts.map(({ back }) => ({ n: back }))),
    noHours: numberAt(BACK_NO_HOURS),
    neverHeardOf: numberAt(NEVER_HEARD_OF),
    steps: steps.map(({ at, atRisk, failures, survival, low, high }) => ({
      hours: at,
      atRisk,
      back: failures,
      running: survival,
      ...(low === undefined || high === undefined ? {} : { low, high }),
    })),
    heard: rows
      .filter(({ hours, n, hits }) => hours >= 0 && n > hits)
      .map(({ hours, n, hits }) => ({ hours, count: n - hits }))
      .sort((one, other) => one.hours - other.hours),
    ...(medianHours === undefined ? {} : { medianHours }),
    cranks,
  }
}

function sum(rows: readonly { n: number }[]): number {
  return rows.reduce((total, { n }) => total + n, 0)
}
