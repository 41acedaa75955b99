/** True at first check, by person, engine and month, from the sums that were read. */
import type { OfficeFirstCheck } from '#contract/office-first-check.ts'
import { CRANK_RULES } from '#core/office-rules.ts'
import { dayAfter, monthsFromTo } from '#core/office-window.ts'
import { rate } from '#core/rate.ts'
import type { CrankFilters, Window } from './filters.ts'
import { cranksOf, csvOf } from './links.ts'
import type { FirstCheckSums, Hits } from './store.ts'

export function firstCheckOf(read: FirstCheckSums, window: Window, asked: Pick<CrankFilters, 'engine' | 'person'>): OfficeFirstCheck {
  const filters = { ...window, ...definedOf(asked) }
  const total = read.byMonth.reduce((all, { n, hits }) => ({ n: all.n + n, hits: all.hits + hits }), { n: 0, hits: 0 })
  const list = (more: CrankFilters) => cranksOf('first-check', { ...filters, ...more })
  const ofMonth = new Map(read.byMonth.map((row) => [row.key, row]))
  return {
    rule: CRANK_RULES['first-check'],
    n: total.n,
    cranks: list({}),
    csv: csvOf('first-check', filters),
    ...filters,
    all: shareOf(total),
    byPerson: read.byPerson.map((row) => ({
      id: row.key === '' ? null : row.key,
      name: row.name ?? 'nobody called it true',
      ...shareOf(row),
      cranks: list({ person: row.key === '' ? 'none' : row.key }),
    })),
    byEngine: read.byEngine.map((row) => ({ id: row.key, name: row.name ?? '', ...shareOf(row), cranks: list({ engine: row.key }) })),
    byMonth: monthsFromTo(window.from, window.to).map((month) => ({
      month,
      ...shareOf(ofMonth.get(month) ?? { n: 0, hits: 0 }),
      cranks: list(monthWithin(month, window)),
    })),
  }
}

/** The days of a month that lie in the window. */
function monthWithin(month: string, window: Window): Window {
  const first = `${month}-01`
  const last = dayAfter(`${dayAfter(first, 31).slice(0, 7)}-01`, -1)
  return { from: [first, window.from].sort()[1]!, to: [last, window.to].sort()[0]! }
}

function shareOf({ n, hits }: Pick<Hits, 'n' | 'hits'>) {
  const answer = rate({ failures: hits, total: n })
  return { n, count: hits, ...(answer.ok ? { share: answer.value.rate, wilson: answer.value.wilson! } : {}) }
}

function definedOf({ engine, person }: Pick<CrankFilters, 'engine' | 'person'>): { engine?: string; person?: string } {
  return { ...(engine === undefined ? {} : { engine }), ...(person === undefined ? {} : { person }) }
}
