import { z } from 'zod'
import { cranksFilters } from '#contract/office-cranks.ts'
import { calendarDate, id } from '#contract/primitives.ts'
import { isCalendarDate } from '#core/calendar.ts'
import { COMEBACK_KEYS } from '#core/office-rules.ts'
import { JOB_KINDS } from '#core/steps.ts'

/** How far back a figure looks: so many months, unless two days are named. */
export const MONTHS = ['3', '6', '12', '24'] as const
export type Months = (typeof MONTHS)[number]

const windowSearch = {
  months: z.enum(MONTHS).default('12'),
  from: calendarDate.optional(),
  to: calendarDate.optional(),
}

export const comebacksSearch = z.object({ ...windowSearch, by: z.enum(COMEBACK_KEYS).default('lot'), lot: id.optional() })
export const firstCheckSearch = z.object({ ...windowSearch, person: id.optional(), engine: id.optional() })
export const earningSearch = z.object(windowSearch)

export const WEEKS = ['12', '26', '52', '104'] as const
export const flowSearch = z.object({ weeks: z.enum(WEEKS).default('12'), kind: z.enum(['all', ...JOB_KINDS]).default('all') })

const { figure, ...others } = cranksFilters
export const cranksSearch = z.object({ figure: figure.optional(), ...others })

export interface WindowState {
  months: Months
  from?: string | undefined
  to?: string | undefined
}

/** The same day so many months earlier; where that month is too short, its last day. Dates YYYY-MM-DD. */
export function monthsBefore(date: string, months: number): string {
  if (!isCalendarDate(date)) throw new RangeError('monthsBefore needs a date of the calendar')
  const [year, month, day] = date.split('-').map(Number) as [number, number, number]
  const last = new Date(Date.UTC(year, month - months, 0)).getUTCDate()
  return new Date(Date.UTC(year, month - 1 - months, Math.min(day, last))).toISOString().slice(0, 10)
}

/** The window as it is asked of the book. The usual twelve months are left to the book. */
export function windowAsked({ months, from, to }: WindowState, today: string): { from?: string; to?: string } {
  if (from !== undefined || to !== undefined) return { ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) }
  return months === '12' ? {} : { from: monthsBefore(today, Number(months)) }
}

/** `last 12 months`, or the days themselves. */
export function windowWords({ months, from, to }: WindowState, named: (date: string) => string): string {
  if (from === undefined && to === undefined) return `last ${months} months`
  if (from === undefined) return `until ${named(to ?? '')}`
  return to === undefined ? `since ${named(from)}` : `${named(from)} to ${named(to)}`
}

/** The page that lists the cranks behind a figure. */
export function cranksHref(query: string): string {
  return `/office/cranks?${query}`
}
