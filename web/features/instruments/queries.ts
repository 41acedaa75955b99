import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { InstrumentCheckNew, InstrumentPage, MadeWith } from '#contract/instrument-checks.ts'
import type { Instrument, instrumentChange, instrumentNew } from '#contract/instruments.ts'
import { get, patch, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

const INSTRUMENTS = ['instruments'] as const

export const instrumentsQuery = queryOptions({
  queryKey: INSTRUMENTS,
  queryFn: ({ signal }) => get<Instrument[]>('/api/instruments', { signal }),
})

export function oneInstrumentQuery(id: string) {
  return queryOptions({
    queryKey: [...INSTRUMENTS, 'one', id],
    queryFn: ({ signal }) => get<InstrumentPage>(`/api/instruments/${id}`, { signal }),
  })
}

/** Certificates that rest on its readings since its last good check, or around one fault. */
export function madeWithQuery(id: string, fault: string | undefined) {
  return infiniteQueryOptions({
    queryKey: [...INSTRUMENTS, 'certificates', id, fault ?? 'now'],
    queryFn: ({ pageParam, signal }) =>
      get<MadeWith>(`/api/instruments/${id}/certificates`, { signal, query: { fault, after: pageParam } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
  })
}

export function madeWithCsv(id: string, fault: string | undefined): string {
  return `/api/instruments/${id}/certificates.csv${fault === undefined ? '' : `?fault=${fault}`}`
}

// An instrument that is overdue or in doubt stands in the way of signing, so the jobs are asked again too.
const AGES = [INSTRUMENTS, ['jobs']] as const

export function useAddInstrument() {
  return useAct((given: z.infer<typeof instrumentNew>, key) => post<Instrument>('/api/instruments', given, { key }), AGES)
}

export function useChangeInstrument(one: Pick<Instrument, 'id' | 'version'>) {
  return useAct(
    (change: z.infer<typeof instrumentChange>, key) =>
      patch<Instrument>(`/api/instruments/${one.id}`, change, { version: one.version, key }),
    AGES,
  )
}

/** A check, a zero or a fall, written down. */
export function useCheckInstrument(id: string) {
  return useAct((given: InstrumentCheckNew, key) => post<Instrument>(`/api/instruments/${id}/checks`, given, { key }), AGES)
}
