import type { z } from 'zod'
import type { clockEntry, clockState } from '#contract/hours.ts'
import { waitingShown } from '#web/lib/outbox/shown.ts'

export type ClockState = z.infer<typeof clockState>

/** The clock of this hand as the book answers it, after the starts and stops that lie on this tablet and are not in the book yet. */
export function layClock(clock: ClockState): ClockState {
  const last = waitingShown<z.infer<typeof clockEntry>>(/^\/api\/clock\//).at(-1)
  if (last === undefined) return clock
  return { ...clock, running: last.stoppedAt === undefined ? last : null }
}
