import type { GaugeReadingNew, GaugeStudy, GaugeStudyNew } from '#contract/gauge-studies.ts'
import { momentOf } from '#server/features/events/store.ts'
import { readInstrument } from '#server/features/instruments/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { doneAt } from '#server/plugins/moments.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { studyFor, turnOf } from './answer.ts'
import * as store from './store.ts'

export async function startStudy(act: Act, wanted: GaugeStudyNew): Promise<GaugeStudy> {
  const { zone } = await readSettings(act.tx)
  const instrument = await readInstrument(act.tx, wanted.instrumentId, shopDay(act.now, zone))
  if (instrument === null || instrument.ended) throw fieldFault('/instrumentId', 'not-in-use', 'Choose an instrument that is in use.')
  mustDiffer('/parts', wanted.parts)
  mustDiffer('/people', wanted.people)
  const readers = await store.readersAmong(act.tx, wanted.people)
  if (readers.length < wanted.people.length)
    throw fieldFault('/people', 'not-at-the-bench', 'Everybody who reads has to be somebody who works at the bench.')
  const id = await store.addStudy(act, wanted)
  const made = await studyAs(act.tx, id, act.by.id)
  act.note('start gauge study', 'gauge_study', id, { after: { ...wanted, id } })
  return made
}

/** One blind reading: of the part whose turn it is, and no other. The last one that comes in closes the study. */
export async function readPart(act: Act, studyId: string, wanted: GaugeReadingNew): Promise<GaugeStudy> {
  const head = await openStudy(act, studyId)
  if (!head.people.some((one) => one.id === act.by.id)) throw new Problem('forbidden', 'You are not among the people of this study.')
  const { next } = turnOf(head, act.by.id, await store.readingsOf(act.tx, studyId, act.by.id))
  if (next === null) throw new Problem('conflict-state', 'Your readings are all in.')
  const { part, round, mm } = wanted
  if (next.part !== part || next.round !== round)
    throw new Problem('conflict-state', `${head.parts[next.part - 1]} comes next, in round ${next.round}.`)
  const occurredAt = new Date(doneAt({ occurredAt: momentOf(act, wanted.occurredAt), recordedAt: act.now }))
  const id = wanted.id ?? act.newId()
  await store.addReading(act, studyId, { id, part, round, mm, occurredAt })
  // What was read stays out of the chain, whose lines the owner may open before all readings are in.
  act.note('read gauge study', 'gauge_study', studyId, { after: { reading: id, part, round } })
  const taken = head.people.reduce((sum, one) => sum + one.taken, 1)
  if (taken === store.wantedOf(head)) await store.closeStudy(act, studyId, null)
  return studyAs(act.tx, studyId, act.by.id)
}

/** One's own reading that was mistyped, while the study is open; it is read again. */
export async function strikeOwnReading(act: Act, id: string, because: string): Promise<GaugeStudy> {
  const found = await store.findReading(act.tx, id)
  if (found === null) throw notFound('This reading')
  await openStudy(act, found.studyId)
  const reading = await store.findReading(act.tx, id)
  if (found.personId !== act.by.id) throw new Problem('forbidden', 'Only your own readings are yours to strike out.')
  if (reading?.struck !== false) throw new Problem('conflict-state', 'This reading is struck out already.')
  await store.strikeReading(act, id, because)
  act.note('strike gauge reading', 'gauge_study', found.studyId, { before: { reading: id }, reason: because })
  return studyAs(act.tx, found.studyId, act.by.id)
}

/** Ends a study whose readings will not all come in; they stay in the book and are never shown. */
export async function giveUpStudy(act: Act, id: string, because: string): Promise<GaugeStudy> {
  const head = await openStudy(act, id)
  if (head.startedById !== act.by.id && act.by.role !== 'owner')
    throw new Problem('forbidden', 'Whoever started it or the owner may give it up.')
  await store.closeStudy(act, id, because)
  act.note('close gauge study', 'gauge_study', id, { after: { closedBecause: because }, reason: because })
  return studyAs(act.tx, id, act.by.id)
}

async function openStudy(act: Act, id: string): Promise<store.StudyHead> {
  const head = await store.lockStudy(act.tx, id)
  if (head === null) throw notFound('This study')
  const state = store.stateOf(head)
  if (state === 'all-in') throw new Problem('conflict-state', 'All readings of this study are in; it stands as it is.')
  if (state === 'given-up') throw new Problem('conflict-state', 'This study was given up.')
  return head
}

/** The study as this person may see it. */
export async function studyAs(db: Tx | Db['prisma'], id: string, personId: string): Promise<GaugeStudy> {
  const head = await store.readStudy(db, id)
  if (head === null) throw notFound('This study')
  const readings = await store.readingsOf(db, id, store.stateOf(head) === 'all-in' ? undefined : personId)
  return studyFor(head, personId, readings)
}

function mustDiffer(pointer: string, names: readonly string[]): void {
  const twice = names.findIndex((name, index) => names.indexOf(name) !== index)
  if (twice >= 0) throw fieldFault(`${pointer}/${twice}`, 'twice', 'This one is named twice.')
}
