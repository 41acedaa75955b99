import { queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { Measurement, MeasurementNew, strike } from '#contract/measurements.ts'
import type { Check, MoveNew, Truing } from '#contract/truing.ts'
import type { Joint } from '#core/crank-build.ts'
import { figuresHere } from '#web/features/truing/figures-here.ts'
import { layCheck, layTruing } from '#web/features/truing/waiting.ts'
import { get, post } from '#web/lib/http.ts'
import { atJoint, useJointHere } from '#web/lib/joint-here.ts'
import { keptStrike } from '#web/lib/outbox/kept-strike.ts'
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

/** The whole crank, or one throw of several on its own shafts. */
export function truingQuery(id: string, joint?: Joint) {
  return queryOptions({
    queryKey: joint === undefined ? [...jobKey(id), 'truing'] : [...jobKey(id), 'truing', joint],
    queryFn: async ({ signal }) =>
      layTruing(id, await get<Truing>(`/api/jobs/${id}/truing`, { signal, ...(joint === undefined ? {} : { query: { joint } }) }), joint),
  })
}

export function checkQuery(id: string) {
  return queryOptions({
    queryKey: [...jobKey(id), 'check'],
    queryFn: async ({ signal }) => layCheck(id, await get<Check>(`/api/jobs/${id}/check`, { signal })),
  })
}

/** One set of readings, sent whole. `onIn` runs once the book or the tablet has it and before anything is fetched anew. */
export function useTakeSet(jobId: string, onIn: () => Promise<void>) {
  const joint = useJointHere()
  return useKeptAct(
    async (taken: MeasurementNew, press, client) => {
      const given = atJoint(taken, joint)
      const set = await postKept(keptSet(jobId, given, press, client, figuresHere(client, jobId, given)))
      await onIn()
      return set
    },
    [jobKey(jobId), LISTS],
  )
}

export function useLogMove(jobId: string) {
  const joint = useJointHere()
  return useKeptAct(
    (made: MoveNew, { key, at }) => {
      const given = atJoint(made, joint)
      const { id = key, occurredAt = at, ...rest } = given
      return postKept({
        path: `/api/jobs/${jobId}/moves`,
        body: given,
        key,
        lane: jobId,
        jobId,
        what: `move: ${given.action}`,
        occurredAt,
        instead: { id, ...rest, by: BY_YOU, occurredAt },
      })
    },
    [jobKey(jobId)],
  )
}

/** The set written down again with 3 and 9 changed over; the one that stood is struck out with it. */
export function useTurnRound(jobId: string) {
  return useAct(
    (given: { setId: string }, key) => post<Measurement>(`/api/measurements/${given.setId}/turn-round`, {}, { key }),
    [jobKey(jobId), LISTS],
  )
}

export function useStrikeOut(jobId: string) {
  return useKeptAct(
    (given: { setId: string; strike: z.infer<typeof strike> }, press) =>
      postKept(keptStrike(jobId, 'measurements', given.setId, given.strike, press)),
    [jobKey(jobId), LISTS],
  )
}
