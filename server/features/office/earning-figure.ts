/** What earns and what bleeds: bench hours and agreed price by engine, from the sums that were read. */
import type { OfficeEarning } from '#contract/office-earns.ts'
import { CRANK_RULES } from '#core/office-rules.ts'
import type { Window } from './filters.ts'
import { cranksOf, csvOf } from './links.ts'
import type { EarningRow } from './store.ts'

const SECONDS_AN_HOUR = 3600

export function earningOf(read: { all: EarningRow | undefined; rows: readonly EarningRow[] }, window: Window): OfficeEarning {
  const all = earns(read.all ?? { n: 0, seconds: 0, minor: 0 })
  return {
    rule: CRANK_RULES.earning,
    n: all.n,
    cranks: cranksOf('earning', window),
    csv: csvOf('earning', { ...window }),
    ...window,
    all: { ...all, cranks: cranksOf('earning', window) },
    rows: read.rows
      .map((row) => {
        const own = earns(row)
        const cranks = cranksOf('earning', { ...window, engine: row.key })
        return { id: row.key, name: row.name ?? '', ...own, cranks, againstShop: ratio(own.perHourMinor, all.perHourMinor) }
      })
      .sort((one, other) => (one.perHourMinor ?? 0) - (other.perHourMinor ?? 0)),
  }
}

function earns({ n, seconds, minor }: Pick<EarningRow, 'n' | 'seconds' | 'minor'>) {
  if (n === 0) return { n }
  const hours = seconds / SECONDS_AN_HOUR
  return { n, meanHours: hours / n, meanPriceMinor: minor / n, perHourMinor: minor / hours }
}

function ratio(own: number | undefined, all: number | undefined): number {
  return own === undefined || all === undefined || all === 0 ? 1 : own / all
}
