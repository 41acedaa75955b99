/** Queries and addresses that a figure carries: where its cranks are listed, and where it is as CSV. */
import type { CrankFigure } from '#core/office-rules.ts'
import type { CrankFilters } from './filters.ts'

type Query = Readonly<Record<string, string | number | undefined>>

export function queryOf(query: Query): string {
  const given = new URLSearchParams()
  for (const [name, value] of Object.entries(query)) if (value !== undefined) given.set(name, String(value))
  return given.toString()
}

/** The list of cranks behind a figure. */
export function cranksOf(figure: CrankFigure, filters: Omit<CrankFilters, 'figure'> = {}): string {
  return queryOf({ figure, ...filters })
}

/** The CSV of a figure, with the filters it was asked with. */
export function csvOf(name: string, query: Query = {}): string {
  const asked = queryOf(query)
  return `/api/office/${name}.csv${asked === '' ? '' : `?${asked}`}`
}
