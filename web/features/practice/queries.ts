import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import { type PracticeEnd, type PracticeMoveNew, type PracticeNew, practiceLines, practiceRun } from '#contract/practice.ts'
import { get, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

const KEY = ['practice'] as const
const LIST_LENGTH = 20

/** Own practice cranks, or those of somebody that the owner looks at; the last first. */
export function practiceListQuery(personId?: string) {
  return infiniteQueryOptions({
    queryKey: [...KEY, 'list', personId ?? 'own'],
    queryFn: ({ pageParam, signal }) =>
      get(personId === undefined ? '/api/practice' : `/api/people/${personId}/practice`, practiceLines, {
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
    queryFn: ({ signal }) => get(`/api/practice/${id}`, practiceRun, { signal }),
  })
}

export function useTakePracticeCrank() {
  return useAct((given: PracticeNew, key) => post('/api/practice', given, practiceRun, { key }), [KEY])
}

export function usePracticeMove(id: string) {
  return useAct((given: PracticeMoveNew, key) => post(`/api/practice/${id}/moves`, given, practiceRun, { key }), [KEY])
}

export function useEndPractice(id: string) {
  return useAct((given: PracticeEnd, key) => post(`/api/practice/${id}/end`, given, practiceRun, { key }), [KEY])
}
