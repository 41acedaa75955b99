import { queryOptions } from '@tanstack/react-query'
import type { WebLife } from '#contract/web-life.ts'
import type { Joint } from '#core/crank-build.ts'
import { get } from '#web/lib/http.ts'

/** Beneath the key of a job where one is looked at, so that any act on it makes the answer old. */
export function webLifeQuery(crankId: string, jobId?: string, joint?: Joint) {
  const of = joint === undefined ? [] : [joint]
  return queryOptions({
    queryKey: jobId === undefined ? ['cranks', 'one', crankId, 'web-life', ...of] : ['jobs', 'one', jobId, 'web-life', crankId, ...of],
    queryFn: ({ signal }) =>
      get<WebLife>(`/api/cranks/${crankId}/web-life`, { signal, ...(joint === undefined ? {} : { query: { joint } }) }),
  })
}
