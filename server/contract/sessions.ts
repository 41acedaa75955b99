import { z } from 'zod'
import { PASSWORD_MOST, password, pin, role, signInName } from './people.ts'
import { id, instant, line } from './primitives.ts'

export const signIn = z.strictObject({
  name: z.string().min(1, 'Your name here.').max(40).describe('Sign-in name'),
  password: z.string().min(1, 'Your password here.').max(PASSWORD_MOST).describe('Password'),
})
export const pinSignIn = z.strictObject({ personId: id.describe('Who takes over the tablet'), pin })

export const me = z.strictObject({
  id,
  name: line().describe('Name as colleagues say it'),
  signIn: signInName,
  role,
  maySign: z.boolean().describe('May sign certificates'),
  hasPin: z.boolean().describe('Has a PIN'),
  endsAt: instant.describe('When this session ends at the latest'),
  idleMinutes: z.int().describe('Minutes without a request after which it ends'),
  enrolled: z.boolean().describe('This device is an enrolled bench tablet'),
  demo: z.boolean().describe('This is the demo book'),
})
export type Me = z.infer<typeof me>

/** What anybody may know before signing in. */
export const door = z.strictObject({
  setUp: z.boolean().describe('An owner exists; false on the first visit to a new book'),
  demo: z.boolean().describe('This is the demo book'),
  shop: z.string().describe('Name of the shop'),
  hands: z
    .array(z.strictObject({ id, name: z.string().describe('Name as colleagues say it') }))
    .describe('On an enrolled bench tablet: who may take over by PIN; else empty'),
})
export type Door = z.infer<typeof door>

export const setUp = z.strictObject({
  code: z.string().min(1, 'The code printed where the server was started.').max(40).describe('One-time code printed at start'),
  shop: line().describe('Name of the shop'),
  name: line().describe('Your name as colleagues say it'),
  signIn: signInName,
  password,
})

export const session = z.strictObject({
  id: z.string().describe('Short name of this session; it opens nothing'),
  device: z.string().optional().describe('Name of the enrolled tablet; absent on any other device'),
  byPin: z.boolean().describe('Opened by PIN'),
  startedAt: instant.describe('When it was opened'),
  lastSeenAt: instant.describe('When it last asked for something, to about a minute'),
  endsAt: instant.describe('When it ends by itself if nothing more is asked of it'),
  endsLatestAt: instant.describe('When it ends in any case'),
  here: z.boolean().describe('The session that asks'),
})
export type OpenSession = z.infer<typeof session>

const sessionName = z
  .string()
  .regex(/^[0-9a-f]{32}$/, 'A session is named by 32 signs of 0 to 9 and a to f.')
  .describe('Short name of a session')
export const sessionParams = z.strictObject({ id, session: sessionName })
export const ownSessionParams = z.strictObject({ session: sessionName })
export const sessionsEnded = z.strictObject({ ended: z.int().describe('How many sessions had not ended yet and have now') })

export const deviceNew = z.strictObject({ name: line(60).describe('What the tablet is called, such as bench 1') })
export const device = z.strictObject({
  id,
  name: z.string().describe('What the tablet is called'),
  enrolledAt: instant,
  enrolledBy: z.string().describe('Who enrolled it'),
})
