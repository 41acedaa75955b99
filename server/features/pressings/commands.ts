import type { z } from 'zod'
import type { FitStop, FitStopNew } from '#contract/fit-stop.ts'
import type { oilHole, oilHoleSeen, PressingNew, strike, weldNew } from '#contract/measurements.ts'
import { fitFigure } from '#core/bench/fit-of-web.ts'
import { decideFitStop, FIT_STOP_WORDS } from '#core/fit-stop.ts'
import { stepAfterWelding } from '#core/step-moves.ts'
import { doneWord, isEnd, PATHS } from '#core/steps.ts'
import { addEvent, momentOf } from '#server/features/events/store.ts'
import { lockedBench, openBench, pressingAnswer } from '#server/features/measurements/store.ts'
import { goBack } from '#server/features/steps/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import * as store from './store.ts'

/** One web pressed apart or together. Nothing goes under the press before a yes to the price. */
export async function pressWeb(act: Act, jobId: string, wanted: PressingNew): Promise<store.PressingShown> {
  const held = await openBench(act, jobId)
  if (held.state === 'booked' || (held.state === 'measured' && PATHS[held.kind].includes('agreed')))
    throw new Problem('conflict-state', `${held.tag} is ${doneWord(held.state)}: nothing goes under the press before it is agreed.`)
  if (held.kind === 'check-and-report') throw new Problem('conflict-state', 'A report leaves the crank as it came: it is not pressed.')
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

function pressedWords({ side, direction, peakTonnes, notReadBecause, crack }: PressingNew): string {
  const gauge = peakTonnes === undefined ? `the gauge was not read, because ${notReadBecause}` : `${peakTonnes} t at the peak`
  const web = `The ${side} web was pressed ${direction}: ${gauge}${peakTonnes === undefined ? '' : '.'}`
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
    says: `The ${found.shown.side} web pressed ${found.shown.direction}: struck out. ${wanted.because}`,
    id: wanted.id,
    occurredAt: wanted.occurredAt,
    data: { pressingId: id },
  })
  act.note('strike out pressing', 'pressing', id, { before: found.shown, reason: wanted.because })
  return after.shown
}

/** The owner's word on a web that is too loose for its pin. It opens no gate: what is done about it is measured again. */
export async function decideOnFit(act: Act, jobId: string, wanted: FitStopNew): Promise<FitStop> {
  const { side, choice, because, id, occurredAt } = wanted
  const held = await openBench(act, jobId)
  const floors = { scrapShare: held.record.settings.scrapFloorFactor, sheet: held.sheet }
  const fit = fitFigure(held.record.sets, side, floors, null)
  const decision = decideFitStop({ side, choice, verdict: fit?.read ? fit.value.verdict : null })
  if (!decision.ok) throw new Problem('conflict-state', decision.detail)
  await addEvent(act, jobId, { kind: store.FIT_STOP, says: `${decision.says} ${because}`, id, occurredAt, data: { side, choice, because } })
  act.note('decide on a loose fit', 'job', jobId, { after: { side, choice }, reason: because })
  return { side, choice, says: FIT_STOP_WORDS[choice], because, by: act.by.name, at: momentOf(act, occurredAt).toISOString() }
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
