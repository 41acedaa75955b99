import { useQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import type { Bench } from '#contract/bench.ts'
import { measuredQuery } from '#web/features/jobs/queries.ts'
import { Failed, Loading } from '#web/ui/states.tsx'

/** Everything measured and pressed on a job, for the screens that go on from it. */
export function WithMeasured({ jobId, children }: { jobId: string; children: (bench: Bench) => ReactNode }) {
  const bench = useQuery(measuredQuery(jobId))
  if (bench.data !== undefined) return children(bench.data)
  if (bench.isPending) return <Loading what="what is measured" />
  return <Failed what="What is measured" error={bench.error} onAgain={() => void bench.refetch()} />
}
