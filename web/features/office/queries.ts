import { infiniteQueryOptions, keepPreviousData, queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import {
  type comebackQuery,
  type cranksQuery,
  type earningQuery,
  type firstCheckQuery,
  type flowQuery,
  officeComebacks,
  officeCranks,
  officeEarning,
  officeFirstCheck,
  officeFlow,
  officeRunning,
  officeToday,
  type runningQuery,
} from '#contract/office.ts'
import { get } from '#web/lib/http.ts'

type Asked<Query extends z.ZodType> = z.infer<Query>

const OFFICE = 'office'
const LIST_LENGTH = 50

/** What stands in the shop today; asked again every minute while it is looked at. */
export const todayQuery = queryOptions({
  queryKey: [OFFICE, 'today'],
  queryFn: ({ signal }) => get('/api/office', officeToday, { signal }),
  refetchInterval: 60_000,
})

// A filter that changes keeps what stood there until the new figures are in: nothing jumps.
export function flowOf(query: Asked<typeof flowQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'flow', query],
    queryFn: ({ signal }) => get('/api/office/flow', officeFlow, { signal, query }),
    placeholderData: keepPreviousData,
  })
}

export function firstCheckOf(query: Asked<typeof firstCheckQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'first-check', query],
    queryFn: ({ signal }) => get('/api/office/first-check', officeFirstCheck, { signal, query }),
    placeholderData: keepPreviousData,
  })
}

export function comebacksOf(query: Asked<typeof comebackQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'comebacks', query],
    queryFn: ({ signal }) => get('/api/office/comebacks', officeComebacks, { signal, query }),
    placeholderData: keepPreviousData,
  })
}

export function runningOf(query: Asked<typeof runningQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'running', query],
    queryFn: ({ signal }) => get('/api/office/running', officeRunning, { signal, query }),
    placeholderData: keepPreviousData,
  })
}

export function earningOf(query: Asked<typeof earningQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'earning', query],
    queryFn: ({ signal }) => get('/api/office/earning', officeEarning, { signal, query }),
    placeholderData: keepPreviousData,
  })
}

/** The cranks behind a figure, fifty at a time. */
export function cranksOf(filters: Omit<Asked<typeof cranksQuery>, 'after' | 'limit'>) {
  return infiniteQueryOptions({
    queryKey: [OFFICE, 'cranks', filters],
    queryFn: ({ pageParam, signal }) =>
      get('/api/office/cranks', officeCranks, { signal, query: { ...filters, after: pageParam, limit: LIST_LENGTH } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
  })
}
