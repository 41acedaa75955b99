import type { Job } from '#contract/jobs.ts'
import { usePlace } from '#web/features/jobs/queries.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'

/** One press to say that it lies on this bench now. */
export function TakeInHand({ job, name }: { job: Job; name: string }) {
  const { personId } = useHere()
  const take = usePlace(job.id)
  if (job.holder === name) return null
  return (
    <>
      <Button busy={take.isPending} onClick={() => take.mutate({ holderId: personId })}>
        I have it
      </Button>
      {take.isError && (
        <p className="wrong" role="alert">
          {inWords(take.error)}
        </p>
      )}
    </>
  )
}
