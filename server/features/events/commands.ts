import type { z } from 'zod'
import type { jobNote, told } from '#contract/events.ts'
import type { Job } from '#contract/jobs.ts'
import { jobAsItStands } from '#server/features/job-page/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { notFound } from '#server/plugins/errors.ts'
import * as store from './store.ts'

/** A line that somebody writes into the history by hand; the whole shop reads it. */
export async function writeNote(act: Act, jobId: string, wanted: z.infer<typeof jobNote>): Promise<store.JobEvent> {
  if (!(await store.jobExists(act.tx, jobId))) throw notFound('This job')
  const event = await store.addEvent(act, jobId, { kind: 'note', ...wanted })
  act.note('write note', 'job', jobId, { after: { says: wanted.says } })
  return event
}

/** What the customer was told. The words may hold a price or a name, so the bench reads only that they were told. */
export async function tellCustomer(act: Act, jobId: string, wanted: z.infer<typeof told>): Promise<Job> {
  if (!(await store.jobExists(act.tx, jobId))) throw notFound('This job')
  const { says, how, id, occurredAt } = wanted
  await store.addEvent(act, jobId, {
    kind: 'told',
    says: `The customer was told, ${how}.`,
    toCounter: `Told, ${how}: “${says}”`,
    data: { told: says, how },
    id,
    occurredAt,
  })
  act.note('tell customer', 'job', jobId, { after: { says, how } })
  return jobAsItStands(act, jobId)
}
