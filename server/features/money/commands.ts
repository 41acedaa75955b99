import type { z } from 'zod'
import type { FieldError } from '#contract/errors.ts'
import type { Job } from '#contract/jobs.ts'
import type { BoxCheck, box, paymentNew, QuoteNew, yesNew } from '#contract/money.ts'
import { boxFaults } from '#core/box-list.ts'
import { containedTaxMinor } from '#core/contained-tax.ts'
import { moneyWords } from '#core/money-words.ts'
import { textOrNull } from '#server/features/customers/store.ts'
import { addEvent, momentOf } from '#server/features/events/store.ts'
import { jobAsItStands } from '#server/features/job-page/store.ts'
import { type JobHead, lockJob } from '#server/features/jobs/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { endWait, openWait, startWait } from '#server/features/waits/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import * as store from './store.ts'

async function jobFor(act: Act, id: string): Promise<JobHead> {
  const job = await lockJob(act.tx, id)
  if (!job) throw notFound('This job')
  return job
}

/** A new version of the price; the job then waits for a yes to it, whatever was agreed before. */
export async function makeQuote(act: Act, jobId: string, wanted: QuoteNew): Promise<Job> {
  const job = await jobFor(act, jobId)
  if (job.state === 'gone') throw new Problem('conflict-state', `${job.tag} is gone; its price stands.`)
  const { taxPermille, currency } = await readSettings(act.tx)
  const { id, totalMinor, text, occurredAt } = wanted
  const last = await store.lastQuote(act.tx, jobId)
  const version = (last?.version ?? 0) + 1
  const madeAt = momentOf(act, occurredAt)
  const taxMinor = containedTaxMinor(totalMinor, taxPermille)
  await store.addQuote(act, { id, jobId, version, totalMinor, taxMinor, text, madeAt })
  if (!(await openWait(act.tx, jobId, 'yes'))) await startWait(act, { jobId, what: 'yes', since: madeAt, note: null, dueOn: null })
  await addEvent(act, jobId, {
    kind: 'quoted',
    says: `Quote ${version} was made; it waits for a yes.`,
    toCounter: `Quote ${version}: ${moneyWords(totalMinor, currency)}. It waits for a yes.`,
    occurredAt,
  })
  act.note('make quote', 'job', jobId, { after: { version, totalMinor, taxMinor, text } })
  return jobAsItStands(act, jobId)
}

/** The customer's yes to the price as it stands now. */
export async function enterYes(act: Act, jobId: string, wanted: z.infer<typeof yesNew>): Promise<Job> {
  const job = await jobFor(act, jobId)
  const quote = await store.lastQuote(act.tx, jobId)
  if (!quote) throw new Problem('conflict-state', `There is no quote for ${job.tag} yet to say yes to.`)
  if (quote.version !== wanted.quoteVersion)
    throw new Problem('conflict-state', `Quote ${quote.version} stands now, not quote ${wanted.quoteVersion}. Ask again with that one.`)
  const at = momentOf(act, wanted.occurredAt)
  if (!(await store.sayYes(act, quote.id, { by: wanted.by, how: wanted.how, at })))
    throw new Problem('conflict-state', `There is a yes to quote ${quote.version} already.`)
  await endWait(act, jobId, 'yes', at)
  const { currency } = await readSettings(act.tx)
  await addEvent(act, jobId, {
    kind: 'yes',
    says: `The yes to quote ${quote.version} came, ${wanted.how}.`,
    toCounter: `The yes to quote ${quote.version}, ${moneyWords(quote.totalMinor, currency)}, came ${wanted.how}.`,
    id: wanted.id,
    occurredAt: wanted.occurredAt,
  })
  act.note('enter yes', 'job', jobId, { after: { quote: quote.version, by: wanted.by, how: wanted.how } })
  return jobAsItStands(act, jobId)
}

const TAKEN = { deposit: 'A deposit was taken', payment: 'Money was taken', back: 'Money was given back' } as const

export async function takePayment(act: Act, jobId: string, wanted: z.infer<typeof paymentNew>): Promise<Job> {
  await jobFor(act, jobId)
  const { currency } = await readSettings(act.tx)
  const { id, amountMinor, what, how, note, occurredAt } = wanted
  if (what === 'back') {
    const taken = await store.takenMinor(act.tx, jobId)
    if (amountMinor > taken) throw fieldFault('/amountMinor', 'more-than-taken', `No more than ${moneyWords(taken, currency)} was taken.`)
  }
  await store.addPayment(act, { id, jobId, amountMinor, what, how, note, at: momentOf(act, occurredAt) })
  await addEvent(act, jobId, {
    kind: 'paid',
    says: `${TAKEN[what]}.`,
    toCounter: `${TAKEN[what]}: ${moneyWords(amountMinor, currency)}, ${how}.`,
    occurredAt,
  })
  act.note('take payment', 'job', jobId, { after: { amountMinor, what, how } })
  return jobAsItStands(act, jobId)
}

/** The list that is ticked off before a crank goes home. The first one is written over version 0. */
export async function checkBox(act: Act, jobId: string, wanted: BoxCheck): Promise<z.infer<typeof box>> {
  const job = await jobFor(act, jobId)
  const before = await store.readBox(act.tx, jobId)
  mustStandAt(before?.version ?? 0, act.expectedVersion())
  if (job.state === 'gone') throw new Problem('conflict-state', `${job.tag} is gone, and its box with it.`)
  const word = wordFor(act, before?.ownersWord ?? null, textOrNull(wanted.ownersWord))
  const errors: FieldError[] = boxFaults(job.cameWith, wanted.items).map(({ item, field, code, detail }) => ({
    pointer: item === null ? '/items' : `/items/${item}/${field}`,
    code,
    detail,
  }))
  if (errors.length > 0) throw new Problem('validation', errors[0]!.detail, { errors })
  const after = await store.saveBox(act, jobId, wanted, word, (before?.version ?? 0) + 1)
  const fewer = wanted.items.filter((item) => item.back < item.came).map((item) => item.what)
  const left = fewer.length === 0 ? 'All that came in goes back.' : `Not all goes back: ${fewer.join(', ')}.`
  await addEvent(act, jobId, { kind: 'box', says: `The box was checked. ${left}` })
  act.note('check box', 'box', jobId, { before, after })
  return after
}

/** The owner alone says that it may go unpaid; the counter, changing the list, leaves that word as it stands. */
function wordFor(act: Act, stands: string | null, wanted: string | null): string | null {
  if (act.by.role === 'owner') return wanted
  if (wanted !== null && wanted !== stands) throw new Problem('forbidden', 'That it may go though not paid is the owner’s word to give.')
  return stands
}
