import { useQueryClient } from '@tanstack/react-query'
import type { Job } from '#contract/jobs.ts'
import { jobQuery } from '#web/features/jobs/queries.ts'
import { WaitingList } from '#web/features/waiting/waiting-list.tsx'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'

export function BenchWaitingPage() {
  const me = useMe()
  const client = useQueryClient()
  return (
    <BenchPlace>
      <Page title="What waits on this tablet" lead="What you took and the book does not have yet.">
        <WaitingList personId={me.id} tagOf={(jobId) => client.getQueryData<Job>(jobQuery(jobId).queryKey)?.tag} />
      </Page>
    </BenchPlace>
  )
}
