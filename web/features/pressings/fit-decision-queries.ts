import type { FitStop, FitStopNew } from '#contract/fit-stop.ts'
import { post } from '#web/lib/http.ts'
import { atJoint, useJointHere } from '#web/lib/joint-here.ts'
import { useAct } from '#web/lib/use-act.ts'

/** The owner's word on a loose web. Not kept for later: it is given where the book answers. */
export function useDecideFit(jobId: string) {
  const joint = useJointHere()
  return useAct(
    (given: FitStopNew, key) => post<FitStop>(`/api/jobs/${jobId}/fit-stops`, atJoint(given, joint), { key }),
    [['jobs', 'one', jobId]],
  )
}
