import { type Customer, type CustomerChange, type CustomerNew, customerNew } from '#contract/customers.ts'

/** A customer as typed. */
export interface CustomerForm extends Record<string, string> {
  name: string
  phone: string
  mail: string
  address: string
  hearBy: string
  note: string
}

export const CUSTOMER_LABELS: Readonly<Record<string, string>> = {
  name: 'Name',
  phone: 'Phone',
  mail: 'Mail',
  address: 'Address',
  hearBy: 'They want to hear by',
  note: 'What to remember about them',
}

export const EMPTY_CUSTOMER: CustomerForm = { name: '', phone: '', mail: '', address: '', hearBy: 'phone', note: '' }

export function customerFormOf(them: Customer): CustomerForm {
  return {
    name: them.name,
    phone: them.phone ?? '',
    mail: them.mail ?? '',
    address: them.address ?? '',
    hearBy: them.hearBy,
    note: them.note ?? '',
  }
}

const ONE_WAY = 'A phone number, a mail address or a postal address: one way to reach them.'

/** What the wire would take of it; also the check before anything is sent, by field. */
export function readCustomer(form: CustomerForm): { ok: true; customer: CustomerNew } | { ok: false; faults: Record<string, string> } {
  const given = Object.entries(form)
    .map(([name, typed]) => [name, typed.trim()] as const)
    .filter(([name, typed]) => name === 'name' || typed !== '')
  const read = customerNew.safeParse(Object.fromEntries(given))
  if (read.success) return { ok: true, customer: read.data }
  const faults: Record<string, string> = {}
  for (const issue of read.error.issues) faults[String(issue.path[0] ?? 'root')] ??= issue.message
  // The shape says this only of a customer that is else in order; both are to be mended in one go.
  if ([form.phone, form.mail, form.address].every((way) => way.trim() === '')) faults.phone ??= ONE_WAY
  return { ok: false, faults }
}

/** Only what differs from what was opened; an emptied field takes it away. */
export function customerChangeOf(base: CustomerForm, mine: CustomerForm): CustomerChange {
  const changed = Object.entries(mine)
    .map(([name, typed]) => [name, typed.trim()] as const)
    .filter(([name, typed]) => typed !== base[name])
  return Object.fromEntries(changed.map(([name, typed]) => [name, typed === '' ? null : typed])) as CustomerChange
}
