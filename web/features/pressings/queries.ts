import type { z } from 'zod'
import {
  type MeasurementNew,
  measurement,
  type oilHole,
  oilHoleSeen,
  type PressingNew,
  pressing,
  type strike,
  weld,
  type weldNew,
} from '#contract/measurements.ts'
import { post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

/** Under the keys of the job, so that the gate and the list are asked for again. */
function agesOf(jobId: string) {
  return [
    ['jobs', 'one', jobId],
    ['jobs', 'list'],
  ] as const
}

export function usePressWeb(jobId: string) {
  return useAct((given: PressingNew, key) => post(`/api/jobs/${jobId}/pressings`, given, pressing, { key }), agesOf(jobId))
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
  return useAct((given: MeasurementNew, key) => post(`/api/jobs/${jobId}/measurements`, given, measurement, { key }), agesOf(jobId))
}

export function useOilHole(jobId: string) {
  return useAct((given: z.infer<typeof oilHole>, key) => post(`/api/jobs/${jobId}/oil-hole`, given, oilHoleSeen, { key }), agesOf(jobId))
}

export function useWeld(jobId: string) {
  return useAct((given: z.infer<typeof weldNew>, key) => post(`/api/jobs/${jobId}/welds`, given, weld, { key }), agesOf(jobId))
}
