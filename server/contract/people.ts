import { z } from 'zod'
import { id, line, version } from './primitives.ts'

export const ROLES = ['counter', 'bench', 'owner'] as const
export const role = z.enum(ROLES).describe('counter: the front desk; bench: the bench hand; owner: all of both')
export type Role = z.infer<typeof role>

export const PASSWORD_LEAST = 10
export const PASSWORD_MOST = 128

export const signInName = z
  .string()
  .regex(/^[a-z0-9][a-z0-9._-]{1,39}$/, 'Small letters, figures, dot, dash; 2 to 40 of them.')
  .describe('Name used at sign-in')
export const password = z
  .string()
  .min(PASSWORD_LEAST, `At least ${PASSWORD_LEAST} characters; a few words make a good one.`)
  .max(PASSWORD_MOST, `At most ${PASSWORD_MOST} characters.`)
  .describe('Password; any characters, nothing is cut off')
export const pin = z
  .string()
  .regex(/^\d{4,6}$/, 'Four to six figures.')
  .describe('PIN of 4 to 6 figures; works on enrolled bench tablets only')

const named = line().describe('Name as colleagues say it')
const maySign = z.boolean().describe('May sign certificates')
const cranksBefore = z.int().min(0).max(100_000).describe('Rebuilds done before joining; the learning line counts on from here')

export const person = z.strictObject({
  id,
  signIn: signInName,
  name: named,
  role,
  maySign,
  cranksBefore,
  hasPin: z.boolean().describe('Has set a PIN for changing hands at a bench tablet'),
  barred: z.boolean().describe('May not sign in'),
  version,
})
export type Person = z.infer<typeof person>

export const personNew = z.strictObject({
  id: id.optional(),
  signIn: signInName,
  name: named,
  role,
  maySign: maySign.optional(),
  cranksBefore: cranksBefore.optional(),
  password,
})
export type PersonNew = z.infer<typeof personNew>

export const personChange = z.strictObject({
  name: named.optional(),
  role: role.optional(),
  maySign: maySign.optional(),
  cranksBefore: cranksBefore.optional(),
  barred: z.boolean().optional().describe('true ends all their sessions at once'),
  password: password.optional().describe('A new password, set by the owner; ends their sessions'),
  clearPin: z.literal(true).optional().describe('Takes their PIN away; ends their sessions'),
})

const ownPassword = z.string().max(PASSWORD_MOST).describe('Own password, asked again')
export const ownPin = z.strictObject({ password: ownPassword, pin })
export const ownPasswordNew = z.strictObject({
  password: ownPassword,
  newPassword: password.describe('The new password; all other sessions of this person end'),
})
