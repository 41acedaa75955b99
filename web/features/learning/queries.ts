import { queryOptions } from '@tanstack/react-query'
import type { PersonLearning } from '#contract/learning.ts'
import { get } from '#web/lib/http.ts'

/** The line of one person; the book gives it to that person and to the owner. */
export function learningQuery(personId: string) {
  return queryOptions({
    queryKey: ['people', 'learning', personId],
    queryFn: ({ signal }) => get<PersonLearning>(`/api/people/${personId}/learning`, { signal }),
  })
}
