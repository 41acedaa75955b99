import { infiniteQueryOptions, keepPreviousData, queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { Engine, EngineChange, EngineNew, engineCopy, enginePage, figureCorrection } from '#contract/engines.ts'
import { get, patch, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

const OFFERS = 8

export function engineListQuery(typed: string) {
  return infiniteQueryOptions({
    queryKey: ['engines', 'list', typed],
    queryFn: ({ pageParam, signal }) =>
      get<z.infer<typeof enginePage>>('/api/engines', { signal, query: { q: typed === '' ? undefined : typed, after: pageParam } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
    placeholderData: keepPreviousData,
  })
}

/** The few that fit what is being typed. */
export function engineOffersQuery(typed: string) {
  return queryOptions({
    queryKey: ['engines', 'offers', typed],
    queryFn: ({ signal }) => get<z.infer<typeof enginePage>>('/api/engines', { signal, query: { q: typed, limit: OFFERS } }),
    enabled: typed !== '',
    placeholderData: keepPreviousData,
  })
}

export function engineQuery(id: string) {
  return queryOptions({
    queryKey: ['engines', 'one', id],
    queryFn: ({ signal }) => get<Engine>(`/api/engines/${id}`, { signal }),
    enabled: id !== '',
  })
}

export function useEngineNew() {
  return useAct((given: EngineNew, key) => post<Engine>('/api/engines', given, { key }), [['engines']])
}

export function useEngineCopy(id: string) {
  return useAct((given: z.infer<typeof engineCopy>, key) => post<Engine>(`/api/engines/${id}/copies`, given, { key }), [['engines']])
}

export function useFigureCorrection(id: string) {
  return useAct((given: z.infer<typeof figureCorrection>, key) => post<Engine>(`/api/engines/${id}/figures`, given, { key }), [['engines']])
}

export function useEngineChange(id: string) {
  return useAct(
    (given: { change: EngineChange; version: number }, key) =>
      patch<Engine>(`/api/engines/${id}`, given.change, { version: given.version, key }),
    [['engines'], ['jobs']],
  )
}
