import type { z } from 'zod'
import type { MeasurementNew, strike } from '#contract/measurements.ts'
import type { oilHole, PressingNew, trappedSeen, trappedTick, weldNew } from '#contract/pressings.ts'
import { atJoint, useJointHere } from '#web/lib/joint-here.ts'
import { keptStrike } from '#web/lib/outbox/kept-strike.ts'
import { postKept } from '#web/lib/outbox/post-kept.ts'
import { BY_YOU } from '#web/lib/outbox/shown.ts'
import { keptSet } from '#web/lib/outbox/shown-set.ts'
import { useKeptAct } from '#web/lib/outbox/use-kept-act.ts'

/** Under the keys of the job, so that the gate and the list are asked for again. */
function agesOf(jobId: string) {
  return [
    ['jobs', 'one', jobId],
    ['jobs', 'list'],
  ] as const
}

export function usePressWeb(jobId: string) {
  const joint = useJointHere()
  return useKeptAct((pressed: PressingNew, { key, at }) => {
    const given = atJoint(pressed, joint)
    const { id = key, occurredAt = at, ...rest } = given
    return postKept({
      path: `/api/jobs/${jobId}/pressings`,
      body: given,
      key,
      lane: jobId,
      jobId,
      what: `${given.side} web pressed ${given.direction}`,
      occurredAt,
      instead: { id, ...rest, by: BY_YOU, occurredAt },
    })
  }, agesOf(jobId))
}

export function useStrikePressing(jobId: string) {
  return useKeptAct(
    (given: { pressingId: string; strike: z.infer<typeof strike> }, press) =>
      postKept(keptStrike(jobId, 'pressings', given.pressingId, given.strike, press)),
    agesOf(jobId),
  )
}

/** The width between two taps: one place, at the pin. */
export function useWidthNow(jobId: string) {
  const joint = useJointHere()
  return useKeptAct((given: MeasurementNew, press, client) => postKept(keptSet(jobId, atJoint(given, joint), press, client)), agesOf(jobId))
}

export function useOilHole(jobId: string) {
  return useKeptAct(
    (given: z.infer<typeof oilHole>, { key, at }) =>
      postKept({
        path: `/api/jobs/${jobId}/oil-hole`,
        body: { occurredAt: at, ...given },
        key,
        lane: jobId,
        jobId,
        what: `oil hole: ${given.state}`,
        occurredAt: at,
        instead: { state: given.state },
      }),
    agesOf(jobId),
  )
}

export function useWeld(jobId: string) {
  return useKeptAct((given: z.infer<typeof weldNew>, { key, at }) => {
    const { id = key, occurredAt = at, ...rest } = given
    return postKept({
      path: `/api/jobs/${jobId}/welds`,
      body: { ...given, occurredAt },
      key,
      lane: jobId,
      jobId,
      what: 'weld',
      occurredAt,
      instead: { id, ...rest, by: BY_YOU, occurredAt },
    })
  }, agesOf(jobId))
}

/** What is in between the webs. */
export function useTickTrapped(jobId: string) {
  return useKeptAct((given: z.infer<typeof trappedTick>, { key, at }) => {
    const { occurredAt = at, ticked } = given
    return postKept<z.infer<typeof trappedSeen>>({
      path: `/api/jobs/${jobId}/trapped-parts`,
      body: { ...given, occurredAt },
      key,
      lane: jobId,
      jobId,
      what: 'parts between the webs',
      occurredAt,
      instead: { ticked, at: occurredAt, by: BY_YOU },
    })
  }, agesOf(jobId))
}
