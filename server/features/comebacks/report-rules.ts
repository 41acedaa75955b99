/** What a report, a call and their corrections all ask of their day and hours, and how those are said. */
import { daysBetween } from '#core/calendar.ts'
import { readSettings } from '#server/features/settings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { type JobToReport, lockJobToReport } from './store.ts'

export interface Ridden {
  hours: number | null
  hoursHow: string
}

/** Hours without a word on how they are known would later count as if they were read off a meter. */
export function mustKnowRidden({ hours, hoursHow }: Ridden): void {
  if (hours !== null && hoursHow === 'unknown')
    throw fieldFault('/hoursHow', 'unknown-hours', 'Say how the hours are known: off a meter, or declared.')
  if (hours === null && hoursHow !== 'unknown') throw fieldFault('/hours', 'missing', 'How many hours? Where nobody knows, say unknown.')
}

/** `41 h, metered`, or that they are not known. */
export function riddenWords({ hours, hoursHow }: Ridden): string {
  return hours === null ? 'hours not known' : `${hours} h, ${hoursHow}`
}

/** A day from the one on which it went home until today. */
export function mustBeSince(day: string, since: { goneOn: string | null; today: string }): void {
  if (daysBetween(day, since.today) < 0) throw fieldFault('/day', 'ahead', 'This day is still to come.')
  if (since.goneOn !== null && daysBetween(since.goneOn, day) < 0)
    throw fieldFault('/day', 'before-it-went', 'It had not gone home yet on this day.')
}

export async function shopToday(act: Act): Promise<{ zone: string; today: string }> {
  const { zone } = await readSettings(act.tx)
  return { zone, today: shopDay(act.now, zone) }
}

/** The job that something is heard of since it went home, held until the end of the act. */
export async function goneJob(act: Act, jobId: string, zone: string): Promise<JobToReport> {
  const job = await lockJobToReport(act.tx, jobId, zone)
  if (!job) throw notFound('This job')
  if (job.state !== 'gone') throw new Problem('conflict-state', `${job.tag} has not gone home done, so nothing is heard of it from there.`)
  return job
}
