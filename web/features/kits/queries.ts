import { keepPreviousData, queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { kitModel, kitNaming, kitOfJob } from '#contract/kits.ts'
import { get } from '#web/lib/http.ts'
import { atJoint, useJointHere } from '#web/lib/joint-here.ts'
import { postKept } from '#web/lib/outbox/post-kept.ts'
import { useKeptAct } from '#web/lib/outbox/use-kept-act.ts'

export type KitModel = z.infer<typeof kitModel>

const KITS = ['kits'] as const

/** Kits with this text in maker, part or lot; without a text those known for the engine. */
export function kitsQuery(asked: { engineId?: string; q?: string }) {
  return queryOptions({
    queryKey: [...KITS, asked],
    queryFn: ({ signal }) => get<z.infer<typeof kitModel>[]>('/api/kits', { signal, query: asked }),
    placeholderData: keepPreviousData,
  })
}

export function useNameKit(jobId: string) {
  const joint = useJointHere()
  return useKeptAct(
    (wanted: z.infer<typeof kitNaming>, { key, at }) => {
      const given = atJoint(wanted, joint)
      const { occurredAt = at, maker, part, lot, whose } = given
      const named: z.infer<typeof kitOfJob> = { maker, part, lot, whose }
      return postKept({
        path: `/api/jobs/${jobId}/kit`,
        body: { ...given, occurredAt },
        key,
        lane: jobId,
        jobId,
        what: `kit ${maker} ${part}, lot ${lot}`,
        occurredAt,
        instead: named,
        // What goes into one throw alone is not the kit of the whole crank.
        shown: joint === undefined ? named : null,
      })
    },
    [KITS, ['jobs', 'one', jobId], ['jobs', 'list']],
  )
}
