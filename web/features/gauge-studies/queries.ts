import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { GaugeReadingNew, GaugeStudy, GaugeStudyNew, gaugeStudies } from '#contract/gauge-studies.ts'
import { get, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

const STUDIES = ['gauge-studies'] as const

export const studiesQuery = infiniteQueryOptions({
  queryKey: [...STUDIES, 'list'],
  queryFn: ({ pageParam, signal }) => get<z.infer<typeof gaugeStudies>>('/api/gauge-studies', { signal, query: { after: pageParam } }),
  initialPageParam: undefined as string | undefined,
  getNextPageParam: (last) => last.next ?? undefined,
})

export function studyQuery(id: string) {
  return queryOptions({
    queryKey: [...STUDIES, 'one', id],
    queryFn: ({ signal }) => get<GaugeStudy>(`/api/gauge-studies/${id}`, { signal }),
  })
}

export function useStartStudy() {
  return useAct((given: GaugeStudyNew, key) => post<GaugeStudy>('/api/gauge-studies', given, { key }), [STUDIES])
}

export function useReadPart(id: string) {
  return useAct((given: GaugeReadingNew, key) => post<GaugeStudy>(`/api/gauge-studies/${id}/readings`, given, { key }), [STUDIES])
}

export function useStrikeReading() {
  return useAct(
    ({ id, because }: { id: string; because: string }, key) => post<GaugeStudy>(`/api/gauge-readings/${id}/strike`, { because }, { key }),
    [STUDIES],
  )
}

export function useGiveUp(id: string) {
  return useAct((because: string, key) => post<GaugeStudy>(`/api/gauge-studies/${id}/give-up`, { because }, { key }), [STUDIES])
}
