/** The night's drill: once for every night, also for one that the server slept through. */
import { createHash } from 'node:crypto'
import { NIGHT_AT } from '#contract/proofs.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { lastTimeOfDay } from '#server/plugins/shop-day.ts'
import { type Proving, prove } from './prove.ts'
import { anybodyYet, anyDrillSince, openDrill } from './store.ts'

/** A drill that was begun or asked for longer ago than this is taken as cut off. */
export const CUT_OFF_MS = 60 * 60_000

/** Asked every few minutes: proves the book if nobody did since the last time that the clock stood at the hour of the night. */
export async function proveIfDue(by: Proving): Promise<void> {
  const { prisma } = by.db
  if (!(await anybodyYet(prisma))) return
  const { zone } = await readSettings(prisma)
  const due = lastTimeOfDay(by.clock(), zone, NIGHT_AT)
  const id = nightId(due)
  // One that was killed half way comes back with its own id and goes on; any other that ran since then will do.
  const own = await openDrill(prisma, due)
  if (own?.id !== id && (await anyDrillSince(prisma, due))) return
  await prove(by, id)
}

/** The id of a night's drill follows from the night, so that a second try is the same drill. */
export function nightId(due: Date): string {
  const hex = createHash('sha256').update(`night ${due.toISOString()}`).digest('hex')
  // Version 8 of RFC 9562 §5.8: an id of one's own making.
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20, 32)}`
}
