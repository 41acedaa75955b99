import type { z } from 'zod'
import type { FitStop, FitStopNew } from '#contract/fit-stop.ts'
import type { strike } from '#contract/measurements.ts'
import type { oilHole, oilHoleSeen, PressingNew, trappedSeen, trappedTick, weldNew } from '#contract/pressings.ts'
import { fitFigure } from '#core/bench/fit-of-web.ts'
import { ofJoint } from '#core/bench/joints.ts'
import { type Joint, jointsOf, jointWords } from '#core/crank-build.ts'
import { decideFitStop, FIT_STOP_WORDS } from '#core/fit-stop.ts'
import { stepAfterWelding } from '#core/step-moves.ts'
import { doneWord, isEnd, PATHS } from '#core/steps.ts'
import { addEvent, momentOf } from '#server/features/events/store.ts'
import { type JobBench, lockedBench, openBench, pressingAnswer } from '#server/features/measurements/store.ts'
import { goBack } from '#server/features/steps/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { doneAt } from '#server/plugins/moments.ts'
import * as store from './store.ts'

/** One web pressed apart or together. Nothing goes under the press before a yes to the price. */
export async function pressWeb(act: Act, jobId: string, wanted: PressingNew): Promise<store.PressingShown> {
  const held = await openBench(act, jobId)
  if (held.state === 'booked' || (held.state === 'measured' && PATHS[held.kind].includes('agreed')))
    throw new Problem('conflict-state', `${held.tag} is ${doneWord(held.state)}: nothing goes under the press before it is agreed.`)
  if (held.kind === 'check-and-report') throw new Problem('conflict-state', 'A report leaves the crank as it came: it is not pressed.')
  mustBeAJoint(held, wanted.joint)
  const { shown } = await store.addPressing(act, { id: jobId, crankId: held.crankId }, wanted)
  await addEvent(act, jobId, {
    kind: 'pressed',
    says: pressedWords(wanted),
    occurredAt: wanted.occurredAt,
    data: { pressingId: shown.id },
  })
  act.note('press', 'pressing', shown.id, { after: shown })
  return pressingAnswer(held, shown)
}

/** A crank with one throw has no joints to name; of one with several each pressing is at one of them. */
function mustBeAJoint({ build }: JobBench, joint: Joint | undefined): void {
  const joints = jointsOf(build)
  if (joints.length === 0 && joint !== undefined)
    throw fieldFault('/joint', 'not-for-this', 'This crank has one throw: there is no joint to name.')
  if (joints.length > 0 && joint === undefined) throw fieldFault('/joint', 'missing', 'Say which joint: each is pressed by itself.')
  if (joint !== undefined && !joints.includes(joint)) throw fieldFault('/joint', 'unknown', 'The sheet of this engine has no such joint.')
}

function pressedWords({ side, joint, direction, peakTonnes, notReadBecause, crack }: PressingNew): string {
  const gauge = peakTonnes === undefined ? `the gauge was not read, because ${notReadBecause}` : `${peakTonnes} t at the peak`
  const of = joint === undefined ? '' : ` of ${jointWords(joint).toLowerCase()}`
  const web = `The ${side} web${of} was pressed ${direction}: ${gauge}${peakTonnes === undefined ? '' : '.'}`
  return crack === true ? `${web} A crack was seen in it.` : web
}

export async function strikePressing(act: Act, id: string, wanted: z.infer<typeof strike>): Promise<store.PressingShown> {
  const found = await store.readPressing(act.tx, id)
  if (!found) throw notFound('This pressing')
  await openBench(act, found.jobId)
  if (!(await store.strikePressing(act, id, wanted.because))) throw new Problem('conflict-state', 'It is struck out already.')
  const after = await store.readPressing(act.tx, id)
  if (!after) throw notFound('This pressing')
  await addEvent(act, found.jobId, {
    kind: 'struck',
    says: `The ${found.shown.side} web${found.shown.joint === undefined ? '' : ` of ${jointWords(found.shown.joint).toLowerCase()}`} pressed ${found.shown.direction}: struck out. ${wanted.because}`,
    id: wanted.id,
    occurredAt: wanted.occurredAt,
    data: { pressingId: id },
  })
  act.note('strike out pressing', 'pressing', id, { before: found.shown, reason: wanted.because })
  return after.shown
}

/** The owner's word on a web that is too loose for its pin. It opens no gate: what is done about it is measured again. */
export async function decideOnFit(act: Act, jobId: string, wanted: FitStopNew): Promise<FitStop> {
  const { side, joint, choice, because, id, occurredAt } = wanted
  const held = await openBench(act, jobId)
  mustBeAJoint(held, joint)
  const floors = { scrapShare: held.record.settings.scrapFloorFactor, sheet: held.sheet }
  const fit = fitFigure(ofJoint(held.record, joint).sets, side, floors, null)
  const decision = decideFitStop({ side, choice, verdict: fit?.read ? fit.value.verdict : null })
  if (!decision.ok) throw new Problem('conflict-state', decision.detail)
  const of = joint === undefined ? {} : { joint }
  const at = joint === undefined ? '' : `${jointWords(joint)}: `
  await addEvent(act, jobId, {
    kind: store.FIT_STOP,
    says: `${at}${decision.says} ${because}`,
    id,
    occurredAt,
    data: { side, ...of, choice, because },
  })
  act.note('decide on a loose fit', 'job', jobId, { after: { side, ...of, choice }, reason: because })
  return { side, ...of, choice, says: FIT_STOP_WORDS[choice], because, by: act.by.name, at: momentOf(act, occurredAt).toISOString() }
}

/** A look at the parts that sit between the webs: those that are in. The last look counts, until the crank is parted again. */
export async function tickTrapped(act: Act, jobId: string, wanted: z.infer<typeof trappedTick>): Promise<z.infer<typeof trappedSeen>> {
  const held = await openBench(act, jobId)
  const listed = (held.build?.trapped ?? []).map(({ what }) => what)
  if (listed.length === 0) throw new Problem('conflict-state', 'The sheet of this engine lists no parts between the webs.')
  const strange = wanted.ticked.findIndex((what, place) => !listed.includes(what) || wanted.ticked.indexOf(what) < place)
  if (strange >= 0) throw fieldFault(`/ticked/${strange}`, 'unknown', 'The sheet of this engine does not list this, or it is named twice.')
  const { ticked, id, occurredAt } = wanted
  const after = { ticked, at: doneAt({ occurredAt: momentOf(act, occurredAt), recordedAt: act.now }), by: act.by.name }
  await store.setTrapped(act, jobId, after)
  const says = ticked.length === 0 ? 'Nothing is in between the webs.' : `In between the webs: ${ticked.join(', ')}.`
  await addEvent(act, jobId, { kind: 'trapped-parts', says, id, occurredAt })
  act.note('tick parts between the webs', 'job', jobId, { before: held.trapped, after })
  return after
}

const OIL_HOLE = {
  open: 'The oil hole of the pin is lined up and open.',
  masked: 'The oil hole of the pin is masked.',
  none: 'This pin has no oil hole.',
} as const

export async function lookAtOilHole(act: Act, jobId: string, wanted: z.infer<typeof oilHole>): Promise<z.infer<typeof oilHoleSeen>> {
  const { state, id, occurredAt } = wanted
  const held = await openBench(act, jobId)
  await store.setOilHole(act, jobId, state)
  await addEvent(act, jobId, { kind: 'oil-hole', says: OIL_HOLE[state], id, occurredAt })
  act.note('look at oil hole', 'job', jobId, { before: { oilHole: held.record.oilHole }, after: { oilHole: state } })
  return { state }
}

/** A weld. Heat moves the joint: a crank that was true is so no more until it is read again cold, and its job goes back a step. */
export async function weldPin(act: Act, jobId: string, wanted: z.infer<typeof weldNew>): Promise<store.WeldShown> {
  const held = await lockedBench(act, jobId)
  const { state, kind, tag } = held
  if (state === 'gone' || isEnd(state))
    throw new Problem('conflict-state', `${tag} is ${doneWord(state)}: nothing is done on it at the bench any more.`)
  if (kind === 'check-and-report') throw new Problem('conflict-state', 'A report leaves the crank as it came: it is not welded.')
  const shown = await store.addWeld(act, { id: jobId, crankId: held.crankId }, wanted)
  await addEvent(act, jobId, { kind: 'welded', says: 'The pin was welded.', occurredAt: wanted.occurredAt, data: { weldId: shown.id } })
  act.note('weld', 'weld', shown.id, { after: shown })
  const to = stepAfterWelding(kind, state)
  if (to !== state) {
    const reason = 'welded, and not read again cold yet'
    await goBack(act, held, to, {
      says: `Back from ${doneWord(state)} to ${doneWord(to)}: ${reason}.`,
      reason,
      occurredAt: wanted.occurredAt,
    })
  }
  return shown
}
