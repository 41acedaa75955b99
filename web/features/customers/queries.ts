import { infiniteQueryOptions, keepPreviousData, queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { Customer, CustomerChange, CustomerNew, customerMerge, customerPage } from '#contract/customers.ts'
import { get, patch, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

const OFFERS = 6

export function customerListQuery(typed: string) {
  return infiniteQueryOptions({
    queryKey: ['customers', 'list', typed],
    queryFn: ({ pageParam, signal }) =>
      get<z.infer<typeof customerPage>>('/api/customers', { signal, query: { q: typed === '' ? undefined : typed, after: pageParam } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
    placeholderData: keepPreviousData,
  })
}

/** The few that fit what is being typed. */
export function customerOffersQuery(typed: string) {
  return queryOptions({
    queryKey: ['customers', 'offers', typed],
    queryFn: ({ signal }) => get<z.infer<typeof customerPage>>('/api/customers', { signal, query: { q: typed, limit: OFFERS } }),
    enabled: typed !== '',
    placeholderData: keepPreviousData,
  })
}

export function customerQuery(id: string) {
  return queryOptions({
    queryKey: ['customers', 'one', id],
    queryFn: ({ signal }) => get<Customer>(`/api/customers/${id}`, { signal }),
    enabled: id !== '',
  })
}

export function useCustomerNew() {
  return useAct((given: CustomerNew, key) => post<Customer>('/api/customers', given, { key }), [['customers']])
}

export function useCustomerChange(id: string) {
  return useAct(
    (given: { change: CustomerChange; version: number }, key) =>
      patch<Customer>(`/api/customers/${id}`, given.change, { version: given.version, key }),
    [['customers'], ['jobs']],
  )
}

/** The cranks and jobs of one move to the other; both are read anew. */
export function useMerge() {
  return useAct(
    ({ stays, version, ...merge }: z.infer<typeof customerMerge> & { stays: string; version: number }, key) =>
      post<Customer>(`/api/customers/${stays}/merge`, merge, { version, key }),
    [['customers'], ['jobs'], ['cranks'], ['find']],
    { anewWhenStale: true },
  )
}
