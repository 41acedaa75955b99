import type { z } from 'zod'
import type { FollowUp, FollowUpNew, strikeOut } from '#contract/follow-ups.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { textOrNull } from '#server/features/customers/store.ts'
import { addEvent } from '#server/features/events/store.ts'
import { addCall, readCall, strikeCall } from '#server/features/follow-ups/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import { goneJob, mustBeSince, mustKnowRidden, riddenWords, shopToday } from './report-rules.ts'

/** A call after it went home. Those that run well are counted too: without them there is no rate of the others. */
export async function recordFollowUp(act: Act, jobId: string, wanted: FollowUpNew): Promise<FollowUp> {
  const { zone, today } = await shopToday(act)
  const job = await goneJob(act, jobId, zone)
  mustBeSince(wanted.day, { goneOn: job.goneOn, today })
  const ridden = { hours: wanted.hours ?? null, hoursHow: wanted.hoursHow }
  mustKnowRidden(ridden)
  const call = { id: wanted.id, jobId, day: wanted.day, runs: wanted.runs, ...ridden, says: textOrNull(wanted.says) }
  const id = await addCall(act, call)
  const says = `${wanted.runs ? 'It runs' : 'It does not run well'}, heard ${dayInWords(wanted.day)}; ${riddenWords(ridden)}.`
  const toCounter = call.says === null ? undefined : `${says} They say: “${call.says}”`
  await addEvent(act, jobId, { kind: 'called', says, toCounter, occurredAt: wanted.occurredAt })
  act.note('record call', 'follow_up', id, { after: call })
  return callAsItStands(act, id)
}

/** A call that was written to the wrong crank, say. It stays in the book and counts no more. */
export async function strikeFollowUp(act: Act, id: string, wanted: z.infer<typeof strikeOut>): Promise<FollowUp> {
  const call = await readCall(act.tx, id)
  if (call === null) throw notFound('This call')
  if (!(await strikeCall(act, id, wanted.reason))) throw new Problem('conflict-state', 'This call is struck out already.')
  const says = `The call of ${dayInWords(call.day)} was struck out: ${wanted.reason}`
  await addEvent(act, call.jobId, { kind: 'call-struck', says, occurredAt: wanted.occurredAt })
  act.note('strike call', 'follow_up', id, { reason: wanted.reason })
  return callAsItStands(act, id)
}

async function callAsItStands(act: Act, id: string): Promise<FollowUp> {
  const call = await readCall(act.tx, id)
  if (call === null) throw notFound('This call')
  const { jobId: _of, ...shown } = call
  return shown
}
