import type { z } from 'zod'
import { type Customer, type customerMerge, NOTE_MOST } from '#contract/customers.ts'
import { mergedCustomer } from '#core/merged-customer.ts'
import { addEvent } from '#server/features/events/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import * as store from './store.ts'

/**
 * Two entries that are one customer become one: cranks, jobs and what was known of the one that goes move to the one that
 * stays. It is not taken back; the audit chain keeps both as they stood.
 */
export async function mergeInto(act: Act, id: string, wanted: z.infer<typeof customerMerge>): Promise<Customer> {
  if (wanted.gone === id) throw fieldFault('/gone', 'same', 'This is the same entry twice. Choose the other one.')
  const held = await store.lockCustomers(act.tx, [id, wanted.gone])
  const stays = held.find((one) => one.id === id)
  const gone = held.find((one) => one.id === wanted.gone)
  if (!stays) throw notFound('This customer')
  if (!gone) throw fieldFault('/gone', 'unknown', 'The other customer is not in the book.')
  for (const one of [stays, gone])
    if (one.mergedIntoId !== null)
      throw new Problem('conflict-state', `${one.name} became one with another entry already. Choose that one.`)
  mustStandAt(stays.version, act.expectedVersion())
  mustStandAt(gone.version, wanted.goneVersion)
  const after = { ...factsOf(stays), ...mergedCustomer(stays, gone) }
  if (after.note !== null && after.note.length > NOTE_MOST)
    throw new Problem(
      'conflict-state',
      `What is remembered about both would be longer than ${NOTE_MOST} characters. Shorten one of the two notes first.`,
    )
  const moved = await store.moveEverything(act, gone.id, id)
  await store.changeCustomer(act, id, stays.version, after)
  for (const job of moved.jobs)
    await addEvent(act, job.id, {
      kind: 'customer',
      says: 'Two entries of its customer were made one.',
      toCounter: `${gone.name} and ${stays.name} are one customer; the entry ${gone.name} went. Why: ${wanted.reason}`,
    })
  const whatMoved = { cranksMoved: moved.cranks, jobsMoved: moved.jobs.map((job) => job.tag) }
  act.note('merge customers', 'customer', id, { before: factsOf(stays), after: { ...after, ...whatMoved }, reason: wanted.reason })
  act.note('merge customers', 'customer', gone.id, { before: factsOf(gone), after: { becameOneWith: id }, reason: wanted.reason })
  const { zone } = await readSettings(act.tx)
  return (await store.readCustomer(act.tx, id, zone))!
}

function factsOf({ name, phone, mail, hearBy, address, note }: store.HeldCustomer): store.CustomerColumns {
  return { name, phone, mail, hearBy, address, note }
}
