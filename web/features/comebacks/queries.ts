import { infiniteQueryOptions, keepPreviousData, queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { Comeback, ComebackChange, ComebackNew, comebackPage, comebackQuery, SinceHome, sameLotPage } from '#contract/comebacks.ts'
import type { callPage, FollowUp, FollowUpNew, strikeOut } from '#contract/follow-ups.ts'
import { get, patch, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

/** What is asked of one job lies beneath its key, so that any act on the job makes it old. */
const ofJob = (id: string) => ['jobs', 'one', id]
const COMEBACKS = ['comebacks']
const CALLS = ['follow-ups']

export function sinceHomeQuery(jobId: string) {
  return queryOptions({
    queryKey: [...ofJob(jobId), 'since-home'],
    queryFn: ({ signal }) => get<SinceHome>(`/api/jobs/${jobId}/since-home`, { signal }),
  })
}

export type ComebacksAsked = Omit<z.infer<typeof comebackQuery>, 'after' | 'limit'>

export function comebackListQuery(asked: ComebacksAsked) {
  return infiniteQueryOptions({
    queryKey: [...COMEBACKS, 'list', asked],
    queryFn: ({ pageParam, signal }) =>
      get<z.infer<typeof comebackPage>>('/api/comebacks', { signal, query: { ...asked, after: pageParam } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
    placeholderData: keepPreviousData,
  })
}

export function oneComebackQuery(id: string) {
  return queryOptions({
    queryKey: [...COMEBACKS, 'one', id],
    queryFn: ({ signal }) => get<Comeback>(`/api/comebacks/${id}`, { signal }),
  })
}

export function sameLotQuery(id: string) {
  return infiniteQueryOptions({
    queryKey: [...COMEBACKS, 'one', id, 'same-lot'],
    queryFn: ({ pageParam, signal }) =>
      get<z.infer<typeof sameLotPage>>(`/api/comebacks/${id}/same-lot`, { signal, query: { after: pageParam } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
  })
}

export const callsDueQuery = infiniteQueryOptions({
  queryKey: [...CALLS, 'due'],
  queryFn: ({ pageParam, signal }) => get<z.infer<typeof callPage>>('/api/follow-ups/due', { signal, query: { after: pageParam } }),
  initialPageParam: undefined as string | undefined,
  getNextPageParam: (last) => last.next ?? undefined,
})

/** How many are to be rung and how many reports are open, for the way there. */
export const callCountQuery = queryOptions({
  queryKey: [...CALLS, 'count'],
  queryFn: async ({ signal }) => (await get<z.infer<typeof callPage>>('/api/follow-ups/due', { signal, query: { limit: 1 } })).due,
})
export const comebackCountQuery = queryOptions({
  queryKey: [...COMEBACKS, 'count'],
  queryFn: async ({ signal }) => (await get<z.infer<typeof comebackPage>>('/api/comebacks', { signal, query: { limit: 1 } })).counts.open,
})

export function useReport(jobId: string) {
  return useAct(
    (given: ComebackNew, key) => post<Comeback>(`/api/jobs/${jobId}/comeback`, given, { key }),
    [ofJob(jobId), COMEBACKS, CALLS],
  )
}

/** The report and the jobs that its lines of history stand in. */
export interface OfReport {
  id: string
  job: { id: string }
  newJob?: { id: string } | undefined
}

const touched = ({ job, newJob }: OfReport) => [COMEBACKS, ofJob(job.id), ...(newJob === undefined ? [] : [ofJob(newJob.id)])]

export function useComebackChange(of: OfReport) {
  return useAct(
    (given: { change: ComebackChange; version: number }, key) =>
      patch<Comeback>(`/api/comebacks/${of.id}`, given.change, { version: given.version, key }),
    touched(of),
  )
}

export function useStrikeComeback(of: OfReport) {
  return useAct(
    (given: z.infer<typeof strikeOut>, key) => post<Comeback>(`/api/comebacks/${of.id}/strike`, given, { key }),
    [...touched(of), CALLS],
  )
}

export function useCall(jobId: string) {
  return useAct((given: FollowUpNew, key) => post<FollowUp>(`/api/jobs/${jobId}/follow-ups`, given, { key }), [ofJob(jobId), CALLS])
}

export function useStrikeCall(jobId: string, callId: string) {
  return useAct(
    (given: z.infer<typeof strikeOut>, key) => post<FollowUp>(`/api/follow-ups/${callId}/strike`, given, { key }),
    [ofJob(jobId), CALLS],
  )
}
