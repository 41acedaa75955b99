import { queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import { type clockCorrection, clockEntry, type clockStart, clockState, jobHours } from '#contract/hours.ts'
import { get, patch, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

/** The bench clock of whoever is signed in, and the hours of every job, lie under one key: each start and stop makes both old. */
const HOURS = ['hours'] as const

export const clockQuery = queryOptions({
  queryKey: [...HOURS, 'clock'],
  queryFn: ({ signal }) => get('/api/clock', clockState, { signal }),
  // Another tablet may have stopped it.
  refetchInterval: 60_000,
})

export function jobHoursQuery(jobId: string) {
  return queryOptions({
    queryKey: [...HOURS, 'job', jobId],
    queryFn: ({ signal }) => get(`/api/jobs/${jobId}/hours`, jobHours, { signal }),
  })
}

export function useClockStart() {
  return useAct((given: z.infer<typeof clockStart>, key) => post('/api/clock/start', given, clockEntry, { key }), [HOURS])
}

export function useClockStop() {
  return useAct((_given: null, key) => post('/api/clock/stop', {}, clockEntry, { key }), [HOURS])
}

export function useClockCorrection() {
  return useAct(
    (given: { id: string; version: number; correction: z.infer<typeof clockCorrection> }, key) =>
      patch(`/api/hours/${given.id}`, given.correction, clockEntry, { version: given.version, key }),
    [HOURS],
  )
}
