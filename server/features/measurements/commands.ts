import type { z } from 'zod'
import type { Measurement, MeasurementNew, strike } from '#contract/measurements.ts'
import type { DialEntry } from '#core/bench/budget.ts'
import { sheetOf } from '#core/bench/joint-sheet.ts'
import { setsBefore } from '#core/bench/repeated-sets.ts'
import { type RunoutFigures, runoutFigures } from '#core/bench/runout-set.ts'
import { hiddenSets } from '#core/bench/second-check.ts'
import { byDoubt } from '#core/bench/worth-by-doubt.ts'
import { hasSeveralThrows } from '#core/crank-build.ts'
import { isLater } from '#core/instants.ts'
import { addEvent, momentOf } from '#server/features/events/store.ts'
import { readInstrument } from '#server/features/instruments/store.ts'
import * as readings from '#server/features/readings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { doneAt } from '#server/plugins/moments.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { checkedValues } from './check-readings.ts'
import { mustFitTheJob } from './fits-the-job.ts'
import type { JobBench } from './held.ts'
import { isOddKind, withOdd } from './odd-of-set.ts'
import { readWords, struckWords } from './reading-words.ts'
import { lockedBench, mustBeOpen, openBench } from './store.ts'

/** Without a named dial a hundredth one is taken, the commonest of the bench. */
const USUAL_DIAL: DialEntry = { stepMm: 0.01 }
const COARSEST_DIAL_MM = 0.1

const AFTER_THE_END = 'It reached the book only after the crank was signed or sent away, and counts for nothing any more.'

/**
 * Writes a set of readings down as it was taken; of a runout set it is worked out at once what it comes to. A set that lay
 * on a tablet while the crank was signed elsewhere is kept too, struck out: what is sealed stays as it was read.
 */
export async function takeReadings(act: Act, jobId: string, wanted: MeasurementNew): Promise<Measurement> {
  const held = await lockedBench(act, jobId)
  const set = { ...wanted, values: checkedValues(wanted) }
  const at = doneAt({ occurredAt: momentOf(act, set.occurredAt), recordedAt: act.now })
  const isTooLate = held.shutAt !== null && isLater(held.shutAt, at)
  if (!isTooLate) mustBeOpen(held)
  const dial = await dialOf(act, set, held.zone)
  mustFitTheJob(held, set, act.by, at)
  const figures = figuresOf(held, set, dial, { at, personId: act.by.id })
  const written = await readings.addSet(act, jobId, set, figures)
  const { shown } = written
  await addEvent(act, jobId, { kind: 'read', says: readWords(set), occurredAt: set.occurredAt, data: { measurementId: shown.id } })
  act.note('take readings', 'measurement', shown.id, { after: shown })
  if (isTooLate) return strikeOut(act, { jobId, shown }, { because: AFTER_THE_END })
  return isOddKind(set.kind) ? withOdd(held, await readings.readOursOfEngine(act.tx, held.engineId, jobId), written, shown) : shown
}

/** What the sums make of a runout set, from the figures as the book keeps them. */
function figuresOf(held: JobBench, set: MeasurementNew, dial: DialEntry, by: { at: string; personId: string }): RunoutFigures | null {
  const { setup: setUp } = set
  if (set.kind !== 'runout' || setUp === undefined || set.values.length === 0) return null
  const values = set.values.map(({ place, atDeg, mm }) => ({
    place,
    mm: kept(mm, 5),
    ...(atDeg === undefined ? {} : { atDeg: kept(atDeg, 4) }),
  }))
  const { stepMm: dialStepMm, ...register } = dial
  const sameDial = held.sets.filter(({ shown }) => shown.instrument?.id === set.instrumentId).map(({ set: read }) => read)
  return runoutFigures({
    values,
    setUp,
    dialStepMm,
    register,
    sheet: sheetOf(held.sheet, set.joint),
    several: set.joint === undefined && hasSeveralThrows(held.build),
    shopLimitMm: held.record.settings.houseLimitMm,
    rule: held.guardRule,
    before: setsBefore(
      { ...held.record, sets: sameDial },
      { phase: set.phase, setUp, doneAt: by.at, personId: by.personId, joint: set.joint },
    ),
    expand: byDoubt,
  })
}

function kept(value: number, decimals: number): number {
  return Number(value.toFixed(decimals))
}

async function dialOf(act: Act, set: MeasurementNew, zone: string): Promise<DialEntry> {
  if (set.instrumentId === undefined) return USUAL_DIAL
  const instrument = await readInstrument(act.tx, set.instrumentId, shopDay(act.now, zone))
  if (!instrument) throw fieldFault('/instrumentId', 'unknown', 'This instrument is not in the book.')
  if (instrument.ended) throw fieldFault('/instrumentId', 'ended', `${instrument.name} is used no more. Take another.`)
  if (set.kind === 'runout' && (instrument.kind !== 'dial' || instrument.stepMm > COARSEST_DIAL_MM))
    throw fieldFault('/instrumentId', 'no-dial', 'Runout is read with a dial of a tenth or finer.')
  const { stepMm, errorMm, retraceMm, repeatMm } = instrument
  return { stepMm, errorMm, retraceMm, repeatMm }
}

/** Strikes a set out, with a reason; it stays in the book. */
export async function strikeReadings(act: Act, id: string, wanted: z.infer<typeof strike>): Promise<Measurement> {
  const found = await readings.readSet(act.tx, id)
  if (!found) throw notFound('This set of readings')
  const held = await openBench(act, found.jobId)
  if (hiddenSets(held.record, act.by.id).has(id))
    throw new Problem('conflict-state', 'This reading is kept from you until the second is in. Whoever took it strikes it out.')
  return strikeOut(act, found, wanted)
}

async function strikeOut(
  act: Act,
  { jobId, shown }: { jobId: string; shown: Measurement },
  wanted: z.infer<typeof strike>,
): Promise<Measurement> {
  if (!(await readings.strikeSet(act, shown.id, wanted.because))) throw new Problem('conflict-state', 'It is struck out already.')
  const after = await readings.readSet(act.tx, shown.id)
  if (!after) throw notFound('This set of readings')
  await addEvent(act, jobId, {
    kind: 'struck',
    says: struckWords(shown, wanted.because),
    id: wanted.id,
    occurredAt: wanted.occurredAt,
    data: { measurementId: shown.id },
  })
  act.note('strike out readings', 'measurement', shown.id, { before: shown, reason: wanted.because })
  return after.shown
}
