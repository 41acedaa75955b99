import type { Job } from '#contract/jobs.ts'
import { fillText, type Placeholder } from '#core/placeholders.ts'
import { isEnd } from '#core/steps.ts'
import { day, money } from '#web/lib/format.ts'
import type { Here } from '#web/lib/here.ts'

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

type Shop = Pick<Here, 'currency' | 'shopName' | 'storageDays' | 'texts'>

/** The quote that waits for a yes, in minor units. */
function askedOf(job: Job): number | undefined {
  const open = job.quotes?.[0]
  return open !== undefined && open.yes === undefined ? open.totalMinor : undefined
}

/** What holds it up, as the customer hears it. */
function waitsFor(job: Job, currency: string, today: string): string | undefined {
  const asked = askedOf(job)
  if (asked !== undefined) return `we wait for your yes to ${money(asked, currency, true)}`
  const kit = job.waiting.find((one) => one.what === 'kit')
  if (kit !== undefined) return `we wait for the rod kit${kit.dueOn === undefined ? '' : ` until ${day(kit.dueOn, today)}`}`
  const outside = job.waiting.find((one) => one.what === 'outside')
  if (outside === undefined) return undefined
  return `we wait for work outside the house${outside.dueOn === undefined ? '' : ` until ${day(outside.dueOn, today)}`}`
}

/** The shop's own text for where this job stands; without one, where it is and what holds it up. */
function textFor(job: Job, texts: Shop['texts']): string {
  if (job.late) return texts.late
  if (job.state === 'signed') return texts.ready
  return askedOf(job) === undefined ? 'Your crank {tag} {where}[, {wait}].[ We promised {date}.]' : texts.yes
}

/**
 * One sentence for this person now: where the crank is, what holds it up, and when. Suggested only: the counter changes it
 * before it is said.
 */
export function tellSentence(job: Job, shop: Shop, today: string): string {
  const name = `Your crank ${job.tag}`
  if (isEnd(job.state)) return job.state === 'scrapped' ? `${name} cannot be built again.` : `${name} goes back to you as it came.`
  const isOver = job.state === 'signed' || job.state === 'gone'
  const owed = job.owes !== undefined && job.owes > 0 ? job.owes : undefined
  const amount = isOver ? owed : askedOf(job)
  const values: { [name in Placeholder]?: string | undefined } = {
    shop: shop.shopName,
    tag: job.tag,
    days: String(shop.storageDays),
    where: WHERE[job.state],
    wait: waitsFor(job, shop.currency, today),
    amount: amount === undefined ? undefined : money(amount, shop.currency, true),
    date: isOver || job.promisedOn === undefined ? undefined : day(job.promisedOn, today),
  }
  return fillText(textFor(job, shop.texts), values as Partial<Record<Placeholder, string>>)
}
