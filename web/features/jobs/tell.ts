import type { Job } from '#contract/jobs.ts'
import { isEnd } from '#core/steps.ts'
import { day, money } from '#web/lib/format.ts'

const WHERE: Readonly<Record<Exclude<Job['state'], 'given-back' | 'scrapped'>, string>> = {
  booked: 'is here and on the list to be measured',
  measured: 'is measured',
  agreed: 'is on the list to be taken apart, as agreed',
  apart: 'is apart',
  together: 'is pressed together and on the list to be trued',
  trued: 'runs true; a second person checks it next',
  signed: 'is ready to go home',
  gone: 'has gone home',
}

/** What holds it up, as the customer hears it. */
function waitsFor(job: Job, currency: string, today: string): string | undefined {
  const open = job.quotes?.[0]
  if (open !== undefined && open.yes === undefined) return `we wait for your yes to ${money(open.totalMinor, currency, true)}`
  const kit = job.waiting.find((one) => one.what === 'kit')
  if (kit !== undefined) return `we wait for the rod kit${kit.dueOn === undefined ? '' : ` until ${day(kit.dueOn, today)}`}`
  const outside = job.waiting.find((one) => one.what === 'outside')
  if (outside === undefined) return undefined
  return `we wait for work outside the house${outside.dueOn === undefined ? '' : ` until ${day(outside.dueOn, today)}`}`
}

/**
 * One sentence for this person now: where the crank is, what holds it up, and when. Suggested only: the counter changes it
 * before it is said.
 */
export function tellSentence(job: Job, currency: string, today: string): string {
  const name = `Your crank ${job.tag}`
  if (isEnd(job.state)) return job.state === 'scrapped' ? `${name} cannot be built again.` : `${name} goes back to you as it came.`
  const holds = waitsFor(job, currency, today)
  const owed = job.state === 'signed' && job.owes !== undefined && job.owes > 0 ? `, ${money(job.owes, currency, true)} to pay` : ''
  const isOver = job.state === 'signed' || job.state === 'gone'
  const promised = isOver || job.promisedOn === undefined ? '' : whenWords(job, today)
  return `${name} ${WHERE[job.state]}${holds === undefined ? '' : `, ${holds}`}${owed}.${promised}`
}

function whenWords(job: Job, today: string): string {
  if (job.late) return ` It is late, for which we are sorry; we said ${day(job.promisedOn ?? today, today)}.`
  return ` We promised ${day(job.promisedOn ?? today, today)}.`
}
