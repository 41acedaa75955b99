import { queryOptions } from '@tanstack/react-query'
import { webLife } from '#contract/web-life.ts'
import { get } from '#web/lib/http.ts'

/** Beneath the key of a job where one is looked at, so that any act on it makes the answer old. */
export function webLifeQuery(crankId: string, jobId?: string) {
  return queryOptions({
    queryKey: jobId === undefined ? ['cranks', 'one', crankId, 'web-life'] : ['jobs', 'one', jobId, 'web-life', crankId],
    queryFn: ({ signal }) => get(`/api/cranks/${crankId}/web-life`, webLife, { signal }),
  })
}
