import type { z } from 'zod'
import type { Job, JobChange, placeNew } from '#contract/jobs.ts'
import { textOrNull } from '#server/features/customers/store.ts'
import { addEvent } from '#server/features/events/store.ts'
import { jobAsItStands } from '#server/features/job-page/store.ts'
import { readPerson } from '#server/features/people/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound } from '#server/plugins/errors.ts'
import { changedWords, placeWords } from './event-words.ts'
import { mustKnowItsHours, mustPromiseAhead, tidyCameWith } from './field-rules.ts'
import * as store from './store.ts'

export async function changeJob(act: Act, id: string, wanted: JobChange): Promise<Job> {
  const job = await store.lockJob(act.tx, id)
  if (!job) throw notFound('This job')
  mustStandAt(job.version, act.expectedVersion())
  const before = await store.readJobColumns(act.tx, id)
  const after = changed(before, wanted)
  mustKnowItsHours(after.hours, after.hoursHow)
  if (after.promisedOn !== before.promisedOn) await mustPromiseAhead(act, after.promisedOn)
  const says = changedWords(before, after)
  if (says === null) return jobAsItStands(act, id)
  await store.changeJobRow(act, id, job.version, after)
  await addEvent(act, id, { kind: 'changed', says })
  act.note('change job', 'job', id, { before, after })
  return jobAsItStands(act, id)
}

/** Fields that were not sent stay; null takes one away. */
function changed(before: store.JobColumns, wanted: JobChange): store.JobColumns {
  const text = (name: 'usedFor' | 'oil' | 'whoFits' | 'earlierRebuild' | 'conditionNote' | 'feeYesBy' | 'also' | 'notDone') =>
    wanted[name] === undefined ? before[name] : textOrNull(wanted[name])
  return {
    whyNow: wanted.whyNow ?? before.whyNow,
    goesBy: wanted.goesBy ?? before.goesBy,
    hours: wanted.hours === undefined ? before.hours : wanted.hours,
    hoursHow: wanted.hoursHow ?? before.hoursHow,
    usedFor: text('usedFor'),
    oil: text('oil'),
    whoFits: text('whoFits'),
    earlierRebuild: text('earlierRebuild'),
    wantedOn: wanted.wantedOn === undefined ? before.wantedOn : wanted.wantedOn,
    promisedOn: wanted.promisedOn === undefined ? before.promisedOn : wanted.promisedOn,
    kitFrom: wanted.kitFrom ?? before.kitFrom,
    cameWith: wanted.cameWith === undefined ? before.cameWith : tidyCameWith(wanted.cameWith),
    condition: wanted.condition ?? before.condition,
    conditionNote: text('conditionNote'),
    oldPartsBack: wanted.oldPartsBack ?? before.oldPartsBack,
    feeYesBy: text('feeYesBy'),
    feeYesHow: wanted.feeYesHow === undefined ? before.feeYesHow : wanted.feeYesHow,
    also: text('also'),
    notDone: text('notDone'),
  }
}

/** Where it lies and who has it: the commonest change in a day, so it asks for no version. */
export async function movePlace(act: Act, id: string, wanted: z.infer<typeof placeNew>): Promise<Job> {
  const job = await store.lockJob(act.tx, id)
  if (!job) throw notFound('This job')
  const { holderId } = wanted
  const place = wanted.place === undefined ? undefined : textOrNull(wanted.place)
  if (place === undefined && holderId === undefined) throw fieldFault('/place', 'missing', 'Say where it lies, or who has it.')
  const holder = holderId ? await holderOf(act, holderId) : holderId
  const to = { ...(place === undefined ? {} : { place }), ...(holderId === undefined ? {} : { holderId }) }
  await store.movePlace(act, id, to)
  const says = placeWords({ ...(place === undefined ? {} : { place }), ...(holder === undefined ? {} : { holder }) })
  await addEvent(act, id, { kind: 'place', says, id: wanted.id, occurredAt: wanted.occurredAt })
  const before = { place: job.place, holderId: job.holderId }
  act.note('move crank', 'job', id, { before, after: { ...before, ...to } })
  return jobAsItStands(act, id)
}

async function holderOf(act: Act, holderId: string): Promise<string> {
  const person = await readPerson(act.tx, holderId)
  if (!person || person.barred) throw fieldFault('/holderId', 'unknown', 'This person is not one of the shop.')
  return person.name
}

/** A secret address for the customer; its hash alone is kept, and earlier addresses of the job open no more. */
export async function makeLink(act: Act, id: string, tokenHash: Uint8Array<ArrayBuffer>): Promise<void> {
  if (!(await store.lockJob(act.tx, id))) throw notFound('This job')
  const { ended } = await store.replaceLink(act, id, tokenHash)
  const before = ended === 0 ? '' : ' The one before it opens no more.'
  await addEvent(act, id, { kind: 'link', says: `A secret address was made for the customer.${before}` })
  act.note('make secret address', 'job', id, { after: { ended } })
}
