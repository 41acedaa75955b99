import { queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import { type MeasurementNew, measurement, type strike } from '#contract/measurements.ts'
import { check, type MoveNew, move, truing } from '#contract/truing.ts'
import { get, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

/** Under the keys of the job, so that an act on the job makes these old as well, and an act here makes the job old. */
function jobKey(id: string) {
  return ['jobs', 'one', id] as const
}

const LISTS = ['jobs', 'list'] as const

export function truingQuery(id: string) {
  return queryOptions({
    queryKey: [...jobKey(id), 'truing'],
    queryFn: ({ signal }) => get(`/api/jobs/${id}/truing`, truing, { signal }),
  })
}

export function checkQuery(id: string) {
  return queryOptions({ queryKey: [...jobKey(id), 'check'], queryFn: ({ signal }) => get(`/api/jobs/${id}/check`, check, { signal }) })
}

/** One set of readings, sent whole. `onIn` runs once the book has it and before anything is fetched anew. */
export function useTakeSet(jobId: string, onIn: () => Promise<void>) {
  return useAct(
    async (given: MeasurementNew, key) => {
      const set = await post(`/api/jobs/${jobId}/measurements`, given, measurement, { key })
      await onIn()
      return set
    },
    [jobKey(jobId), LISTS],
  )
}

export function useLogMove(jobId: string) {
  return useAct((given: MoveNew, key) => post(`/api/jobs/${jobId}/moves`, given, move, { key }), [jobKey(jobId)])
}

export function useStrikeOut(jobId: string) {
  return useAct(
    (given: { setId: string; strike: z.infer<typeof strike> }, key) =>
      post(`/api/measurements/${given.setId}/strike`, given.strike, measurement, { key }),
    [jobKey(jobId), LISTS],
  )
}
