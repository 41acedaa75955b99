import type { z } from 'zod'
import type { Job } from '#contract/jobs.ts'
import type { waitEnd, waitNew } from '#contract/waits.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { isEnd, type WaitingFor } from '#core/steps.ts'
import { textOrNull } from '#server/features/customers/store.ts'
import { addEvent, momentOf } from '#server/features/events/store.ts'
import { jobAsItStands } from '#server/features/job-page/store.ts'
import { lockJob } from '#server/features/jobs/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import * as store from './store.ts'

const WORDS: Readonly<Record<WaitingFor, string>> = { kit: 'the kit', yes: 'a yes', outside: 'work outside' }

/** The job waits for something. Said again of the same thing, the new due day and note stand and the wait goes on. */
export async function beginWait(act: Act, jobId: string, wanted: z.infer<typeof waitNew>): Promise<Job> {
  const job = await lockJob(act.tx, jobId)
  if (!job) throw notFound('This job')
  if (isEnd(job.state) || job.state === 'gone') throw new Problem('conflict-state', `${job.tag} is in the house no more.`)
  const { what, id, occurredAt } = wanted
  const columns = { note: textOrNull(wanted.note), dueOn: wanted.dueOn ?? null }
  const open = await store.openWait(act.tx, jobId, what)
  if (open) await store.changeWait(act, open.id, columns)
  else await store.startWait(act, { ...columns, id, jobId, what, since: momentOf(act, occurredAt) })
  const due = columns.dueOn === null ? '' : `, due ${dayInWords(columns.dueOn)}`
  const note = columns.note === null ? '' : `: ${columns.note}`
  await addEvent(act, jobId, { kind: 'wait', says: `${open ? 'Still waits' : 'Waits'} for ${WORDS[what]}${due}${note}.`, occurredAt })
  act.note('begin wait', 'job', jobId, { after: { what, ...columns } })
  return jobAsItStands(act, jobId)
}

/** What it waited for has come; of a kit the lot may be named. */
export async function finishWait(act: Act, jobId: string, wanted: z.infer<typeof waitEnd>): Promise<Job> {
  const job = await lockJob(act.tx, jobId)
  if (!job) throw notFound('This job')
  const { what, occurredAt, id } = wanted
  const lot = textOrNull(wanted.lot)
  if (lot !== null && what !== 'kit') throw fieldFault('/lot', 'no-kit', 'Only a kit has a lot.')
  if (!(await store.endWait(act, jobId, what, momentOf(act, occurredAt))))
    throw new Problem('conflict-state', `${job.tag} does not wait for ${WORDS[what]}.`)
  await addEvent(act, jobId, {
    kind: 'wait-over',
    says: overWords(what, lot),
    id,
    occurredAt,
    ...(lot === null ? {} : { data: { lot } }),
  })
  act.note('end wait', 'job', jobId, { after: { what, lot } })
  return jobAsItStands(act, jobId)
}

function overWords(what: WaitingFor, lot: string | null): string {
  if (what === 'kit') return lot === null ? 'The kit is in.' : `The kit is in, lot ${lot}.`
  return what === 'yes' ? 'It waits for a yes no more.' : 'It is back from work outside.'
}
