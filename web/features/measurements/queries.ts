import type { z } from 'zod'
import type { MeasurementNew, strike } from '#contract/measurements.ts'
import { atJoint, useJointHere } from '#web/lib/joint-here.ts'
import { keptStrike } from '#web/lib/outbox/kept-strike.ts'
import { postKept } from '#web/lib/outbox/post-kept.ts'
import { keptSet } from '#web/lib/outbox/shown-set.ts'
import { useKeptAct } from '#web/lib/outbox/use-kept-act.ts'

/** Under the keys of the job, so that a set makes the gate and the list old as well. */
function agesOf(jobId: string) {
  return [
    ['jobs', 'one', jobId],
    ['jobs', 'list'],
  ] as const
}

/** One set of readings, sent whole. */
export function useTakeReadings(jobId: string) {
  const joint = useJointHere()
  return useKeptAct((given: MeasurementNew, press, client) => postKept(keptSet(jobId, atJoint(given, joint), press, client)), agesOf(jobId))
}

export function useStrikeReadings(jobId: string) {
  return useKeptAct(
    (given: { setId: string; strike: z.infer<typeof strike> }, press) =>
      postKept(keptStrike(jobId, 'measurements', given.setId, given.strike, press)),
    agesOf(jobId),
  )
}
