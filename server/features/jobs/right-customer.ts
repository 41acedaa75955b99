import type { z } from 'zod'
import type { Job, jobCustomer } from '#contract/jobs.ts'
import { changeOwner, lockCrank } from '#server/features/cranks/store.ts'
import { standingCustomer } from '#server/features/customers/store.ts'
import { addEvent } from '#server/features/events/store.ts'
import { jobAsItStands } from '#server/features/job-page/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound } from '#server/plugins/errors.ts'
import * as store from './store.ts'

/** Gives a job that was booked on the wrong customer to the right one, with its crank or without. */
export async function moveToCustomer(act: Act, id: string, wanted: z.infer<typeof jobCustomer>): Promise<Job> {
  const job = await store.lockJob(act.tx, id)
  if (!job) throw notFound('This job')
  mustStandAt(job.version, act.expectedVersion())
  const from = await standingCustomer(act.tx, job.customerId)
  const to = await standingCustomer(act.tx, wanted.customerId)
  if (!to) throw fieldFault('/customerId', 'unknown', 'This customer is not in the book.')
  const crank = await lockCrank(act.tx, job.crankId)
  const crankMoves = wanted.withCrank && crank !== null && crank.customerId !== to.id
  if (to.id === job.customerId && !crankMoves) throw fieldFault('/customerId', 'same', 'It is theirs already. Choose the right customer.')
  await store.changeCustomerOf(act, id, to.id)
  if (crankMoves) await changeOwner(act, crank.id, to.id)
  const ended = await store.endLinks(act, id)
  const addresses = ended === 0 ? '' : ' The secret address made before opens no more.'
  const withIt = crankMoves ? ', the crank with it' : ', the crank stays where it was'
  await addEvent(act, id, {
    kind: 'customer',
    says: `It was moved to its right customer.${addresses}`,
    toCounter: `Moved from ${from?.name ?? 'nobody'} to ${to.name}${withIt}. Why: ${wanted.reason}${addresses === '' ? '' : `.${addresses}`}`,
    id: wanted.id,
    occurredAt: wanted.occurredAt,
  })
  act.note('move job', 'job', id, {
    before: { customerId: job.customerId, crankOf: crank?.customerId },
    after: { customerId: to.id, crankOf: crankMoves ? to.id : crank?.customerId, ...(ended === 0 ? {} : { addressesEnded: ended }) },
    reason: wanted.reason,
  })
  return jobAsItStands(act, id)
}
