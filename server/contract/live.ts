/** The live stream: what it says that something changed, and to whom. Ids travel on it; figures, names and prices never do. */
import { z } from 'zod'
import { ROLES, type Role } from './people.ts'

const COUNTER = ['counter', 'owner'] as const
const BENCH = ['bench', 'owner'] as const
const OWNER = ['owner'] as const

/** Who hears of a change to which kind of thing. A kind without a row is heard by the owner alone. */
export const LIVE_KINDS: Record<string, readonly Role[]> = {
  job: ROLES,
  box: ROLES,
  photo: ROLES,
  measurement: ROLES,
  pressing: ROLES,
  weld: ROLES,
  truing_move: ROLES,
  certificate: ROLES,
  comeback: ROLES,
  follow_up: COUNTER,
  clock_entry: BENCH,
  crank: ROLES,
  customer: COUNTER,
  engine: ROLES,
  kit_model: ROLES,
  instrument: ROLES,
  gauge_study: BENCH,
  practice_run: BENCH,
  person: ROLES,
  setting: ROLES,
  device: OWNER,
  proof: OWNER,
}

export function hears(role: Role, kind: string): boolean {
  return (LIVE_KINDS[kind] ?? OWNER).includes(role)
}

export const liveQuery = z.strictObject({
  after: z.coerce
    .number()
    .int()
    .min(0)
    .max(Number.MAX_SAFE_INTEGER)
    .optional()
    .describe('Number of the last event heard; the header Last-Event-ID goes before it'),
})

/** The data of an event without a name. */
export const liveNews = z.object({
  entity: z.string().describe('Kind of thing that changed, such as job or measurement'),
  id: z.string().describe('Id of that thing'),
  jobId: z.string().optional().describe('The job it belongs to, where it belongs to one'),
  seq: z.int().describe('Number of the event: that of the audit row'),
})
export type LiveNews = z.infer<typeof liveNews>

/** Data of `here` (the stream has begun), `all` (too much was missed: ask for everything again) and `beat`. */
export const livePoint = z.object({ seq: z.int().describe('Number of the last event that there is') })
export type LivePoint = z.infer<typeof livePoint>

/** Why the server ends a stream: nobody is signed in any more, the person's role changed, or it is closing. */
export type LiveEnd = 'signed-out' | 'changed' | 'closing'
