import type { Customer, CustomerChange, CustomerNew } from '#contract/customers.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import * as store from './store.ts'

export async function addSomeone(act: Act, wanted: CustomerNew): Promise<Customer> {
  return asItStands(act, await store.addCustomer(act, wanted))
}

export async function changeSomeone(act: Act, id: string, wanted: CustomerChange): Promise<Customer> {
  const [found] = await store.lockCustomers(act.tx, [id])
  if (!found) throw notFound('This customer')
  const { id: _same, version, mergedIntoId, ...before } = found
  if (mergedIntoId !== null)
    throw new Problem('conflict-state', 'This entry became one with another. Open them again and change them there.')
  mustStandAt(version, act.expectedVersion())
  const after: store.CustomerColumns = {
    name: wanted.name ?? before.name,
    phone: wanted.phone === undefined ? before.phone : wanted.phone,
    mail: wanted.mail === undefined ? before.mail : wanted.mail,
    address: wanted.address === undefined ? before.address : store.textOrNull(wanted.address),
    hearBy: wanted.hearBy ?? before.hearBy,
    note: wanted.note === undefined ? before.note : store.textOrNull(wanted.note),
  }
  if (after.phone === null && after.mail === null && after.address === null)
    throw fieldFault('/phone', 'unreachable', 'A phone number, a mail address or a postal address: leave one way to reach them.')
  await store.changeCustomer(act, id, version, after)
  act.note('change customer', 'customer', id, { before, after })
  return asItStands(act, id)
}

async function asItStands(act: Act, id: string): Promise<Customer> {
  const { zone } = await readSettings(act.tx)
  const customer = await store.readCustomer(act.tx, id, zone)
  if (!customer) throw notFound('This customer')
  return customer
}
