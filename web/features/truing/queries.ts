import { queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import { type MeasurementNew, measurement, type strike } from '#contract/measurements.ts'
import { check, type MoveNew, move, truing } from '#contract/truing.ts'
import { figuresHere } from '#web/features/truing/figures-here.ts'
import { layCheck, layTruing } from '#web/features/truing/waiting.ts'
import { get, post } from '#web/lib/http.ts'
import { postKept } from '#web/lib/outbox/post-kept.ts'
import { BY_YOU } from '#web/lib/outbox/shown.ts'
import { keptSet } from '#web/lib/outbox/shown-set.ts'
import { useKeptAct } from '#web/lib/outbox/use-kept-act.ts'
import { useAct } from '#web/lib/use-act.ts'

/** Under the keys of the job, so that an act on the job makes these old as well, and an act here makes the job old. */
function jobKey(id: string) {
  return ['jobs', 'one', id] as const
}

const LISTS = ['jobs', 'list'] as const

export function truingQuery(id: string) {
  return queryOptions({
    queryKey: [...jobKey(id), 'truing'],
    queryFn: async ({ signal }) => layTruing(id, await get(`/api/jobs/${id}/truing`, truing, { signal })),
  })
}

export function checkQuery(id: string) {
  return queryOptions({
    queryKey: [...jobKey(id), 'check'],
    queryFn: async ({ signal }) => layCheck(id, await get(`/api/jobs/${id}/check`, check, { signal })),
  })
}

/** One set of readings, sent whole. `onIn` runs once the book or the tablet has it and before anything is fetched anew. */
export function useTakeSet(jobId: string, onIn: () => Promise<void>) {
  return useKeptAct(
    async (given: MeasurementNew, press, client) => {
      const set = await postKept(keptSet(jobId, given, press, client, figuresHere(client, jobId, given)))
      await onIn()
      return set
    },
    [jobKey(jobId), LISTS],
  )
}

export function useLogMove(jobId: string) {
  return useKeptAct(
    (given: MoveNew, { key, at }) => {
      const { id = key, occurredAt = at, ...rest } = given
      return postKept({
        path: `/api/jobs/${jobId}/moves`,
        body: given,
        key,
        lane: jobId,
        jobId,
        what: `move: ${given.action}`,
        occurredAt,
        answer: move,
        instead: { id, ...rest, by: BY_YOU, occurredAt },
      })
    },
    [jobKey(jobId)],
  )
}

export function useStrikeOut(jobId: string) {
  return useAct(
    (given: { setId: string; strike: z.infer<typeof strike> }, key) =>
      post(`/api/measurements/${given.setId}/strike`, given.strike, measurement, { key }),
    [jobKey(jobId), LISTS],
  )
}
