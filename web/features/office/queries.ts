import { infiniteQueryOptions, keepPreviousData, queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { comebackQuery, OfficeComebacks, OfficeRunning, runningQuery } from '#contract/office-came-back.ts'
import type { cranksQuery, OfficeCranks } from '#contract/office-cranks.ts'
import type { earningQuery, OfficeEarning } from '#contract/office-earns.ts'
import type { firstCheckQuery, OfficeFirstCheck } from '#contract/office-first-check.ts'
import type { flowQuery, OfficeFlow } from '#contract/office-flow.ts'
import type { OfficeToday } from '#contract/office-today.ts'
import { get } from '#web/lib/http.ts'

type Asked<Query extends z.ZodType> = z.infer<Query>

const OFFICE = 'office'
const LIST_LENGTH = 50

/** What stands in the shop today; asked again every minute while it is looked at. */
export const todayQuery = queryOptions({
  queryKey: [OFFICE, 'today'],
  queryFn: ({ signal }) => get<OfficeToday>('/api/office', { signal }),
  refetchInterval: 60_000,
})

// A filter that changes keeps what stood there until the new figures are in: nothing jumps.
export function flowOf(query: Asked<typeof flowQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'flow', query],
    queryFn: ({ signal }) => get<OfficeFlow>('/api/office/flow', { signal, query }),
    placeholderData: keepPreviousData,
  })
}

export function firstCheckOf(query: Asked<typeof firstCheckQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'first-check', query],
    queryFn: ({ signal }) => get<OfficeFirstCheck>('/api/office/first-check', { signal, query }),
    placeholderData: keepPreviousData,
  })
}

export function comebacksOf(query: Asked<typeof comebackQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'comebacks', query],
    queryFn: ({ signal }) => get<OfficeComebacks>('/api/office/comebacks', { signal, query }),
    placeholderData: keepPreviousData,
  })
}

export function runningOf(query: Asked<typeof runningQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'running', query],
    queryFn: ({ signal }) => get<OfficeRunning>('/api/office/running', { signal, query }),
    placeholderData: keepPreviousData,
  })
}

export function earningOf(query: Asked<typeof earningQuery>) {
  return queryOptions({
    queryKey: [OFFICE, 'earning', query],
    queryFn: ({ signal }) => get<OfficeEarning>('/api/office/earning', { signal, query }),
    placeholderData: keepPreviousData,
  })
}

/** The cranks behind a figure, fifty at a time. */
export function cranksOf(filters: Omit<Asked<typeof cranksQuery>, 'after' | 'limit'>) {
  return infiniteQueryOptions({
    queryKey: [OFFICE, 'cranks', filters],
    queryFn: ({ pageParam, signal }) =>
      get<OfficeCranks>('/api/office/cranks', { signal, query: { ...filters, after: pageParam, limit: LIST_LENGTH } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
  })
}
