/** The filters of a figure as a condition: the same for its sums and for its list of cranks. */
import type { z } from 'zod'
import type { cranksFilters } from '#contract/office-cranks.ts'
import type { CrankFigure } from '#core/office-rules.ts'
import { officeWindow } from '#core/office-window.ts'
import { fieldFault } from '#server/plugins/errors.ts'
import { FACTS, type FactFigure, LIVE, type LiveFigure, type Today, unpaid, type Values, waitsFor } from './counted.ts'

export type CrankFilters = { [Name in keyof typeof cranksFilters]?: z.infer<(typeof cranksFilters)[Name]> | undefined }

export interface Window {
  from: string
  to: string
}

export function isLive(figure: CrankFigure): figure is LiveFigure {
  return figure in LIVE
}

/** The column of the day by which a figure is counted; null where it has none. */
export function dayOf(figure: CrankFigure): string | null {
  return isLive(figure) || figure === 'unpaid' ? null : FACTS[figure].day
}

/** The window that a list is about; null where its figure is counted whenever it was. Refuses filters that mean nothing for it. */
export function windowOf(figure: CrankFigure, asked: CrankFilters, today: string): Window | null {
  if (asked.waiting !== undefined && figure !== 'waiting')
    throw fieldFault('#/query/waiting', 'unknown', 'Only the list of what waits is told apart by that; leave it out.')
  if (dayOf(figure) !== null) return officeWindow({ today, from: asked.from, to: asked.to })
  for (const name of ['from', 'to'] as const)
    if (asked[name] !== undefined) throw fieldFault(`#/query/${name}`, 'unknown', 'This figure is not counted by days; leave it out.')
  return null
}

/** What a figure counts, of the rows of office_job named f. */
export function factsWhere(figure: FactFigure, asked: CrankFilters, window: Window | null, today: Today, values: Values): string {
  const counts = figure === 'unpaid' ? unpaid(today, values) : FACTS[figure].counts
  return [counts, ...withinWindow(figure, window, values), ...byCrank(asked, values)].join(' AND ')
}

/** What a figure counts, of the jobs named j with their rows of office_job named f. */
export function liveWhere(figure: LiveFigure, asked: CrankFilters, today: Today, values: Values): string {
  const waits = asked.waiting === undefined ? [] : [waitsFor(asked.waiting)]
  return [LIVE[figure](today, values), ...waits, ...byCrank(asked, values)].join(' AND ')
}

function withinWindow(figure: FactFigure, window: Window | null, values: Values): string[] {
  const day = dayOf(figure)
  return day === null || window === null ? [] : [`${day} BETWEEN ${values.add(window.from, 'date')} AND ${values.add(window.to, 'date')}`]
}

const NONE = 'none'

function byCrank(asked: CrankFilters, values: Values): string[] {
  const { kind, engine, person, lot, notLot, cause, back } = asked
  const is = (column: string, value: string | undefined, type: string) =>
    value === undefined ? [] : [value === NONE ? `${column} IS NULL` : `${column} = ${values.add(value, type)}`]
  return [
    ...is('f.kind', kind, 'text'),
    ...is('f.engine_id', engine, 'uuid'),
    ...is('f.trued_by', person, 'uuid'),
    ...is('f.lot_id', lot, 'uuid'),
    ...(notLot === undefined ? [] : [`f.lot_id IS NOT NULL AND f.lot_id <> ${values.add(notLot, 'uuid')}`]),
    ...(cause === undefined ? [] : ['f.came_back', ...is('f.cause', cause, 'text')]),
    ...(back === undefined ? [] : [back === 'yes' ? 'f.came_back' : 'NOT f.came_back']),
  ]
}
