import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import { type GaugeReadingNew, type GaugeStudyNew, gaugeStudies, gaugeStudy } from '#contract/gauge-studies.ts'
import { get, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

const STUDIES = ['gauge-studies'] as const

export const studiesQuery = infiniteQueryOptions({
  queryKey: [...STUDIES, 'list'],
  queryFn: ({ pageParam, signal }) => get('/api/gauge-studies', gaugeStudies, { signal, query: { after: pageParam } }),
  initialPageParam: undefined as string | undefined,
  getNextPageParam: (last) => last.next ?? undefined,
})

export function studyQuery(id: string) {
  return queryOptions({
    queryKey: [...STUDIES, 'one', id],
    queryFn: ({ signal }) => get(`/api/gauge-studies/${id}`, gaugeStudy, { signal }),
  })
}

export function useStartStudy() {
  return useAct((given: GaugeStudyNew, key) => post('/api/gauge-studies', given, gaugeStudy, { key }), [STUDIES])
}

export function useReadPart(id: string) {
  return useAct((given: GaugeReadingNew, key) => post(`/api/gauge-studies/${id}/readings`, given, gaugeStudy, { key }), [STUDIES])
}

export function useStrikeReading() {
  return useAct(
    ({ id, because }: { id: string; because: string }, key) => post(`/api/gauge-readings/${id}/strike`, { because }, gaugeStudy, { key }),
    [STUDIES],
  )
}

export function useGiveUp(id: string) {
  return useAct((because: string, key) => post(`/api/gauge-studies/${id}/give-up`, { because }, gaugeStudy, { key }), [STUDIES])
}
