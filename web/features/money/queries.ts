import { z } from 'zod'
import { type BoxCheck, box, type paymentNew, type QuoteNew, type yesNew } from '#contract/money.ts'
import { post, put } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

/** Money is a part of its job, so an act here makes the job old, and the lists and the customers that say what is owed. */
function ages(jobId: string) {
  return [['jobs', 'one', jobId], ['jobs', 'list'], ['customers']] as const
}

/** The book answers with the whole job, which the page then asks for anew. */
const theJob = z.looseObject({ id: z.string() })

export function useQuoteNew(jobId: string) {
  return useAct((given: QuoteNew, key) => post(`/api/jobs/${jobId}/quotes`, given, theJob, { key }), ages(jobId))
}

export function useYes(jobId: string) {
  return useAct((given: z.infer<typeof yesNew>, key) => post(`/api/jobs/${jobId}/yes`, given, theJob, { key }), ages(jobId))
}

export function usePayment(jobId: string) {
  return useAct((given: z.infer<typeof paymentNew>, key) => post(`/api/jobs/${jobId}/payments`, given, theJob, { key }), ages(jobId))
}

/** The first list is written over version 0. */
export function useBox(jobId: string) {
  return useAct(
    (given: { list: BoxCheck; version: number }, key) => put(`/api/jobs/${jobId}/box`, given.list, box, { version: given.version, key }),
    ages(jobId),
  )
}
