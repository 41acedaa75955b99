import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import type { PracticeEnd, PracticeLines, PracticeMoveNew, PracticeNew, PracticeRun } from '#contract/practice.ts'
import { get, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

const KEY = ['practice'] as const
const LIST_LENGTH = 20

/** Own practice cranks, or those of somebody that the owner looks at; the last first. */
export function practiceListQuery(personId?: string) {
  return infiniteQueryOptions({
    queryKey: [...KEY, 'list', personId ?? 'own'],
    queryFn: ({ pageParam, signal }) =>
      get<PracticeLines>(personId === undefined ? '/api/practice' : `/api/people/${personId}/practice`, {
        signal,
        query: { after: pageParam, limit: LIST_LENGTH },
      }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
  })
}

export function practiceQuery(id: string) {
  return queryOptions({
    queryKey: [...KEY, 'one', id],
    queryFn: ({ signal }) => get<PracticeRun>(`/api/practice/${id}`, { signal }),
  })
}

export function useTakePracticeCrank() {
  return useAct((given: PracticeNew, key) => post<PracticeRun>('/api/practice', given, { key }), [KEY])
}

export function usePracticeMove(id: string) {
  return useAct((given: PracticeMoveNew, key) => post<PracticeRun>(`/api/practice/${id}/moves`, given, { key }), [KEY])
}

export function useEndPractice(id: string) {
  return useAct((given: PracticeEnd, key) => post<PracticeRun>(`/api/practice/${id}/end`, given, { key }), [KEY])
}
