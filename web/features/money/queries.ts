import type { z } from 'zod'
import type { Job } from '#contract/jobs.ts'
import type { BoxCheck, box, paymentNew, QuoteNew, yesNew } from '#contract/money.ts'
import { post, put } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

/** Money is a part of its job, so an act here makes the job old, and the lists and the customers that say what is owed. */
function ages(jobId: string) {
  return [['jobs', 'one', jobId], ['jobs', 'list'], ['customers']] as const
}

export function useQuoteNew(jobId: string) {
  return useAct((given: QuoteNew, key) => post<Job>(`/api/jobs/${jobId}/quotes`, given, { key }), ages(jobId))
}

export function useYes(jobId: string) {
  return useAct((given: z.infer<typeof yesNew>, key) => post<Job>(`/api/jobs/${jobId}/yes`, given, { key }), ages(jobId))
}

export function usePayment(jobId: string) {
  return useAct((given: z.infer<typeof paymentNew>, key) => post<Job>(`/api/jobs/${jobId}/payments`, given, { key }), ages(jobId))
}

/** The first list is written over version 0. */
export function useBox(jobId: string) {
  return useAct(
    (given: { list: BoxCheck; version: number }, key) =>
      put<z.infer<typeof box>>(`/api/jobs/${jobId}/box`, given.list, { version: given.version, key }),
    ages(jobId),
  )
}
