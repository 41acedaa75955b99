import type { Job } from '#contract/jobs.ts'
import { isEnd, nextStep } from '#core/steps.ts'
import type { Work } from '#web/features/hours/clock-words.ts'

/** What the clock is for, as the job stands. */
export function workOf(job: Pick<Job, 'kind' | 'state'> | undefined): Work {
  if (job === undefined || isEnd(job.state)) return 'measuring'
  switch (nextStep(job.kind, job.state)) {
    case 'apart':
      return 'parting'
    case 'together':
      return 'pressing'
    case 'trued':
      return 'truing'
    case 'signed':
      return 'checking'
    default:
      return 'measuring'
  }
}
