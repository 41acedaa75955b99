import type { z } from 'zod'
import type { ClockEntry, clockState, work } from '#contract/hours.ts'
import { hoursAndMinutes } from '#web/lib/format.ts'
import { secondsSince } from '#web/lib/use-clock.ts'

export type Work = z.infer<typeof work>
export type ClockState = z.infer<typeof clockState>

/** How the running clock stands to the screen somebody looks at. */
export type ClockHere = 'none' | 'here' | 'other-work' | 'other-crank'

export function clockHere(running: ClockEntry | null, jobId: string, at: Work): ClockHere {
  if (running === null) return 'none'
  if (running.jobId !== jobId) return 'other-crank'
  return running.work === at ? 'here' : 'other-work'
}

/** `Jonas · truing 0:47`; on another crank its tag stands in it: `Jonas · truing 319-K 0:12`. */
export function clockWords(name: string, running: ClockEntry | null, jobId: string | undefined, nowMs: number): string {
  if (running === null) return name
  const tag = running.jobId === jobId ? '' : ` ${running.tag}`
  return `${name} · ${running.work}${tag} ${hoursAndMinutes(secondsSince(running.startedAt, nowMs))}`
}
