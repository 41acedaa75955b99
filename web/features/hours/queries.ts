import { queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { ClockEntry, clockCorrection, clockStart, clockState, jobHours } from '#contract/hours.ts'
import { type ClockState, layClock } from '#web/features/hours/waiting.ts'
import { get, patch } from '#web/lib/http.ts'
import { postKept } from '#web/lib/outbox/post-kept.ts'
import { BY_YOU, handId } from '#web/lib/outbox/shown.ts'
import { useKeptAct } from '#web/lib/outbox/use-kept-act.ts'
import { useAct } from '#web/lib/use-act.ts'

/** The bench clock of whoever is signed in, and the hours of every job, lie under one key: each start and stop makes both old. */
const HOURS = ['hours'] as const

/** Starts and stops of one person keep their order, whichever cranks they are on. */
const CLOCK = 'clock'

export const clockQuery = queryOptions({
  queryKey: [...HOURS, 'clock'],
  queryFn: async ({ signal }) => layClock(await get<z.infer<typeof clockState>>('/api/clock', { signal })),
  // Another tablet may have stopped it.
  refetchInterval: 60_000,
})

export function jobHoursQuery(jobId: string) {
  return queryOptions({
    queryKey: [...HOURS, 'job', jobId],
    queryFn: ({ signal }) => get<z.infer<typeof jobHours>>(`/api/jobs/${jobId}/hours`, { signal }),
  })
}

export function useClockStart() {
  return useKeptAct(
    (given: z.infer<typeof clockStart>, { key, at }, client) => {
      const { id = key, jobId, work } = given
      const tag = client.getQueryData<{ tag: string }>(['jobs', 'one', jobId, 'job'])?.tag ?? ''
      return postKept({
        path: '/api/clock/start',
        body: { ...given, occurredAt: at },
        key,
        lane: CLOCK,
        jobId,
        what: `clock started, ${work}`,
        occurredAt: at,
        instead: { id, personId: handId(), person: BY_YOU, jobId, tag, work, startedAt: at, version: 1 },
      })
    },
    [HOURS],
  )
}

export function useClockStop() {
  return useKeptAct(
    (_given: null, { key, at }, client) => {
      const running = client.getQueryData<ClockState>(clockQuery.queryKey)?.running
      return postKept({
        path: '/api/clock/stop',
        body: { occurredAt: at },
        key,
        lane: CLOCK,
        what: running ? `clock stopped, ${running.work}` : 'clock stopped',
        occurredAt: at,
        instead: {
          ...(running ?? { id: handId(), personId: handId(), jobId: handId(), tag: '', work: 'measuring', startedAt: at, version: 1 }),
          person: BY_YOU,
          stoppedAt: at,
          stoppedHow: 'hand',
        },
      })
    },
    [HOURS],
  )
}

export function useClockCorrection() {
  return useAct(
    (given: { id: string; version: number; correction: z.infer<typeof clockCorrection> }, key) =>
      patch<ClockEntry>(`/api/hours/${given.id}`, given.correction, { version: given.version, key }),
    [HOURS],
  )
}
