import { queryOptions, useQuery } from '@tanstack/react-query'
import type { z } from 'zod'
import type { wayIn } from '#contract/way-in.ts'
import { get } from '#web/lib/http.ts'
import { Known } from '#web/ui/notice.tsx'

const wayInQuery = queryOptions({
  queryKey: ['door', 'way-in'],
  queryFn: ({ signal }) => get<z.infer<typeof wayIn>>('/api/way-in', { signal, query: { seen: window.location.origin } }),
})

/** What is set wrong between this browser and the book, said where people stand in front of it. */
export function WayIn() {
  const asked = useQuery(wayInQuery)
  if (asked.data === undefined || asked.data.faults.length === 0) return null
  return (
    <Known>
      {asked.data.faults.map((fault) => (
        <p key={fault.code}>
          {fault.says} {fault.mend}
        </p>
      ))}
    </Known>
  )
}
