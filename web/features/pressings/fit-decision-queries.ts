import { type FitStopNew, fitStop } from '#contract/fit-stop.ts'
import { post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

/** The owner's word on a loose web. Not kept for later: it is given where the book answers. */
export function useDecideFit(jobId: string) {
  return useAct((given: FitStopNew, key) => post(`/api/jobs/${jobId}/fit-stops`, given, fitStop, { key }), [['jobs', 'one', jobId]])
}
