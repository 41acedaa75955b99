import type { Booking, Job } from '#contract/jobs.ts'
import { nextTagNumber, tagOf } from '#core/tag.ts'
import { addReport, linkNewJob, reportOf } from '#server/features/comebacks/store.ts'
import { addCrank, changeOwner, lockCrank } from '#server/features/cranks/store.ts'
import { addCustomer, standingCustomer, textOrNull } from '#server/features/customers/store.ts'
import { dropDraft } from '#server/features/drafts/store.ts'
import { engineName } from '#server/features/engines/store.ts'
import { addEvent, momentOf } from '#server/features/events/store.ts'
import { jobAsItStands } from '#server/features/job-page/store.ts'
import { addPayment } from '#server/features/money/store.ts'
import { shopOf } from '#server/features/settings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, Problem } from '#server/plugins/errors.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { bookedWords } from './event-words.ts'
import { mustKnowItsHours, mustPromiseAhead, tidyCameWith } from './field-rules.ts'
import * as store from './store.ts'

/** Books a crank in: customer, crank, tag, first step, deposit and first line of its history, all or nothing. */
export async function bookIn(act: Act, wanted: Booking): Promise<Job> {
  mustKnowItsHours(wanted.hours ?? null, wanted.hoursHow)
  await mustPromiseAhead(act, wanted.promisedOn ?? null)
  if (wanted.depositMinor && wanted.depositHow === undefined)
    throw fieldFault('/depositHow', 'missing', 'Say how the deposit was paid: cash, card, transfer.')
  const customerId = await customerOf(act, wanted)
  const crank = await crankOf(act, wanted, customerId)
  const earlier = await comebackOf(act, wanted, crank.id)
  const bookedAt = momentOf(act, wanted.occurredAt)
  await dropDraft(act, 'booking')
  // From here on nobody else can book one in until this act ends.
  const number = nextTagNumber(await store.lockTagCounter(act.tx))
  const tag = tagOf(number)!
  const id = await store.insertJob(act, {
    ...columnsOf(wanted),
    id: wanted.id,
    number,
    tag,
    crankId: crank.id,
    customerId,
    comebackOfId: wanted.comebackOf ?? null,
    bookedAt,
  })
  if (wanted.depositMinor && wanted.depositHow !== undefined)
    await addPayment(act, { jobId: id, amountMinor: wanted.depositMinor, what: 'deposit', how: wanted.depositHow, at: bookedAt })
  await addEvent(act, id, { kind: 'booked', says: bookedWords(crank.engine, wanted), occurredAt: wanted.occurredAt })
  if (earlier !== null && wanted.comebackOf !== undefined) {
    await addEvent(act, id, { kind: 'comeback', says: `It is a comeback of ${earlier}.`, occurredAt: wanted.occurredAt })
    await addEvent(act, wanted.comebackOf, { kind: 'came-back', says: `It came back, as ${tag}.`, occurredAt: wanted.occurredAt })
    await reportReturn(act, wanted, { jobId: wanted.comebackOf, newJobId: id, bookedAt })
  }
  act.note('book in', 'job', id, { after: { ...wanted, tag, customerId, crankId: crank.id } })
  return jobAsItStands(act, id)
}

async function customerOf(act: Act, { customer }: Booking): Promise<string> {
  if ('name' in customer) return addCustomer(act, customer)
  const standing = await standingCustomer(act.tx, customer.id)
  if (!standing) throw fieldFault('/customer/id', 'unknown', 'This customer is not in the book.')
  return standing.id
}

async function crankOf(act: Act, { crank }: Booking, customerId: string): Promise<{ id: string; engine: string }> {
  if ('engineId' in crank) {
    const engine = await engineName(act.tx, crank.engineId)
    if (engine === null) throw fieldFault('/crank/engineId', 'unknown', 'This engine is not in the book. Make its sheet first.')
    const id = await addCrank(act, {
      engineId: crank.engineId,
      customerId,
      engineNumber: textOrNull(crank.engineNumber),
      marks: textOrNull(crank.marks),
      welded: crank.welded ?? false,
      pressedBefore: crank.pressedBefore ?? 1,
    })
    return { id, engine }
  }
  const known = await lockCrank(act.tx, crank.id)
  if (!known) throw fieldFault('/crank/id', 'unknown', 'This crank is not in the book.')
  const here = await store.openJobOf(act.tx, known.id)
  if (here !== null) throw new Problem('conflict-state', `This crank is in the house already, as ${here}.`)
  // A crank that was sold on is booked in by its new owner.
  if (known.customerId !== customerId) {
    await changeOwner(act, known.id, customerId)
    act.note('change owner', 'crank', known.id, { before: { customerId: known.customerId }, after: { customerId } })
  }
  return { id: known.id, engine: (await engineName(act.tx, known.engineId)) ?? '' }
}

/** The tag of the job that this one is a comeback of; null where it is none. */
async function comebackOf(act: Act, { comebackOf: id, comebackWhy }: Booking, crankId: string): Promise<string | null> {
  if (id === undefined) {
    if (textOrNull(comebackWhy) !== null) throw fieldFault('/comebackOf', 'missing', 'Say of which earlier job this is a comeback.')
    return null
  }
  const earlier = await store.earlierJob(act.tx, id)
  if (!earlier) throw fieldFault('/comebackOf', 'unknown', 'This earlier job is not in the book.')
  if (earlier.state !== 'gone') throw fieldFault('/comebackOf', 'not-gone', `${earlier.tag} never went home done, so it cannot come back.`)
  if (earlier.crankId !== crankId) throw fieldFault('/comebackOf', 'other-crank', `${earlier.tag} was another crank.`)
  const report = await reportOf(act.tx, id)
  if (report?.newTag != null)
    throw fieldFault(
      '/comebackOf',
      'came-back-already',
      `${earlier.tag} came back already, as ${report.newTag}. What comes now is a comeback of that one.`,
    )
  return earlier.tag
}

/** The report that it came back: the one that stands since they told of it, or a new one of this booking. */
async function reportReturn(act: Act, wanted: Booking, of: { jobId: string; newJobId: string; bookedAt: Date }): Promise<void> {
  const { jobId, newJobId } = of
  const hours = wanted.hours ?? null
  const ridden = { hours, hoursHow: hours === null ? 'unknown' : wanted.hoursHow }
  const told = await reportOf(act.tx, jobId)
  if (told !== null) {
    await linkNewJob(act, told.id, newJobId, ridden)
    act.note('comeback is here', 'comeback', told.id, { after: { newJobId } })
    return
  }
  const { zone } = await shopOf(act)
  const day = shopDay(of.bookedAt, zone)
  const report = { jobId, newJobId, day, how: 'returned', ...ridden, says: textOrNull(wanted.comebackWhy), thought: null }
  act.note('report comeback', 'comeback', await addReport(act, report), { after: report })
}

function columnsOf(wanted: Booking) {
  return {
    kind: wanted.kind,
    whyNow: wanted.whyNow,
    cameBy: wanted.cameBy,
    goesBy: wanted.goesBy,
    hours: wanted.hours ?? null,
    hoursHow: wanted.hoursHow,
    usedFor: textOrNull(wanted.usedFor),
    oil: textOrNull(wanted.oil),
    whoFits: textOrNull(wanted.whoFits),
    earlierRebuild: textOrNull(wanted.earlierRebuild),
    wantedOn: wanted.wantedOn ?? null,
    promisedOn: wanted.promisedOn ?? null,
    place: textOrNull(wanted.place),
    kitFrom: wanted.kitFrom,
    cameWith: tidyCameWith(wanted.cameWith),
    condition: wanted.condition,
    conditionNote: textOrNull(wanted.conditionNote),
    oldPartsBack: wanted.oldPartsBack,
    feeYesBy: textOrNull(wanted.feeYesBy),
    feeYesHow: wanted.feeYesHow ?? null,
    comebackWhy: textOrNull(wanted.comebackWhy),
    also: null,
    notDone: null,
  }
}
