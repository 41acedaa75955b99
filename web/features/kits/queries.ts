import { keepPreviousData, queryOptions } from '@tanstack/react-query'
import { z } from 'zod'
import { kitModel, type kitNaming, kitOfJob } from '#contract/kits.ts'
import { get, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

export type KitModel = z.infer<typeof kitModel>

const KITS = ['kits'] as const

/** Kits with this text in maker, part or lot; without a text those known for the engine. */
export function kitsQuery(asked: { engineId?: string; q?: string }) {
  return queryOptions({
    queryKey: [...KITS, asked],
    queryFn: ({ signal }) => get('/api/kits', z.array(kitModel), { signal, query: asked }),
    placeholderData: keepPreviousData,
  })
}

export function useNameKit(jobId: string) {
  return useAct(
    (given: z.infer<typeof kitNaming>, key) => post(`/api/jobs/${jobId}/kit`, given, kitOfJob, { key }),
    [KITS, ['jobs', 'one', jobId], ['jobs', 'list']],
  )
}
