import type { z } from 'zod'
import { type MeasurementNew, measurement, type strike } from '#contract/measurements.ts'
import { post } from '#web/lib/http.ts'
import { postKept } from '#web/lib/outbox/post-kept.ts'
import { keptSet } from '#web/lib/outbox/shown-set.ts'
import { useKeptAct } from '#web/lib/outbox/use-kept-act.ts'
import { useAct } from '#web/lib/use-act.ts'

/** Under the keys of the job, so that a set makes the gate and the list old as well. */
function agesOf(jobId: string) {
  return [
    ['jobs', 'one', jobId],
    ['jobs', 'list'],
  ] as const
}

/** One set of readings, sent whole. */
export function useTakeReadings(jobId: string) {
  return useKeptAct((given: MeasurementNew, press, client) => postKept(keptSet(jobId, given, press, client)), agesOf(jobId))
}

export function useStrikeReadings(jobId: string) {
  return useAct(
    (given: { setId: string; strike: z.infer<typeof strike> }, key) =>
      post(`/api/measurements/${given.setId}/strike`, given.strike, measurement, { key }),
    agesOf(jobId),
  )
}
