import { z } from 'zod'
import { AUDIT_THINGS, type AuditThing } from '#core/audit-words.ts'

const THINGS = ['', ...Object.keys(AUDIT_THINGS)] as ['', ...AuditThing[]]
const day = z.union([z.literal(''), z.iso.date()]).default('')
const id = z.union([z.literal(''), z.uuid()]).default('')

/** What of the audit is looked at; it stands in the address. */
export const auditSearch = z.object({
  person: id,
  thing: z.enum(THINGS).default(''),
  id,
  action: z.string().max(60).default(''),
  from: day,
  to: day,
})
export type AuditSearch = z.infer<typeof auditSearch>

export const EVERYTHING: AuditSearch = { person: '', thing: '', id: '', action: '', from: '', to: '' }
