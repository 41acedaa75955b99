import type { z } from 'zod'
import {
  type MeasurementNew,
  type oilHole,
  oilHoleSeen,
  type PressingNew,
  pressing,
  type strike,
  weld,
  type weldNew,
} from '#contract/measurements.ts'
import { post } from '#web/lib/http.ts'
import { postKept } from '#web/lib/outbox/post-kept.ts'
import { BY_YOU } from '#web/lib/outbox/shown.ts'
import { keptSet } from '#web/lib/outbox/shown-set.ts'
import { useKeptAct } from '#web/lib/outbox/use-kept-act.ts'
import { useAct } from '#web/lib/use-act.ts'

/** Under the keys of the job, so that the gate and the list are asked for again. */
function agesOf(jobId: string) {
  return [
    ['jobs', 'one', jobId],
    ['jobs', 'list'],
  ] as const
}

export function usePressWeb(jobId: string) {
  return useKeptAct((given: PressingNew, { key, at }) => {
    const { id = key, occurredAt = at, ...rest } = given
    return postKept({
      path: `/api/jobs/${jobId}/pressings`,
      body: given,
      key,
      lane: jobId,
      jobId,
      what: `${given.side} web pressed ${given.direction}`,
      occurredAt,
      answer: pressing,
      instead: { id, ...rest, by: BY_YOU, occurredAt },
    })
  }, agesOf(jobId))
}

export function useStrikePressing(jobId: string) {
  return useAct(
    (given: { pressingId: string; strike: z.infer<typeof strike> }, key) =>
      post(`/api/pressings/${given.pressingId}/strike`, given.strike, pressing, { key }),
    agesOf(jobId),
  )
}

/** The width between two taps: one place, at the pin. */
export function useWidthNow(jobId: string) {
  return useKeptAct((given: MeasurementNew, press, client) => postKept(keptSet(jobId, given, press, client)), agesOf(jobId))
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
        answer: oilHoleSeen,
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
      answer: weld,
      instead: { id, ...rest, by: BY_YOU, occurredAt },
    })
  }, agesOf(jobId))
}
