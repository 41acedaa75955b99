import type { z } from 'zod'
import type { Measurement, MeasurementNew, turnRound } from '#contract/measurements.ts'
import { clockOfMark } from '#core/bench/marks-run.ts'
import * as readings from '#server/features/readings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import { strikeReadings, takeReadings } from './commands.ts'

const BECAUSE = 'The marks run the other way round; written down again, turned round.'

const otherWay = (deg: number) => clockOfMark(deg, 'other-way')

/**
 * A set of runout whose marks were counted the wrong way round: struck out, and written down again with 3 and 9 changed
 * over, as one act. It stays the reading of whoever took it, so that nobody else can do it.
 */
export async function turnReadingsRound(act: Act, id: string, wanted: z.infer<typeof turnRound>): Promise<Measurement> {
  const found = await readings.readSet(act.tx, id)
  if (!found) throw notFound('This set of readings')
  const { shown, jobId } = found
  const { kind, phase, joint, instrument, temperatureC, setup, values, note, occurredAt } = shown
  if (kind !== 'runout' || setup === undefined)
    throw new Problem('conflict-state', 'Only a set of runout readings is read by marks that can run the other way.')
  if (phase === 'second' || phase === 'third')
    throw new Problem('conflict-state', 'A second reading is compared by its swings, and they are the same whichever way the marks run.')
  if (shown.byId !== act.by.id) throw new Problem('conflict-state', `${shown.by} read this set, and turns it round or reads it again.`)
  await strikeReadings(act, id, { because: BECAUSE })
  const turned: MeasurementNew = {
    ...(wanted.id === undefined ? {} : { id: wanted.id }),
    occurredAt,
    kind,
    phase,
    ...(joint === undefined ? {} : { joint }),
    ...(instrument === undefined ? {} : { instrumentId: instrument.id }),
    ...(temperatureC === undefined ? {} : { temperatureC }),
    setup: {
      ...setup,
      ...(setup.skippedLeftDeg === undefined ? {} : { skippedLeftDeg: setup.skippedLeftDeg.map(otherWay) }),
      ...(setup.skippedRightDeg === undefined ? {} : { skippedRightDeg: setup.skippedRightDeg.map(otherWay) }),
      marksRun: setup.marksRun === 'other-way' ? 'clockwise' : 'other-way',
    },
    values: values.map((value) => (value.atDeg === undefined ? value : { ...value, atDeg: otherWay(value.atDeg) })),
    ...(note === undefined ? {} : { note }),
  }
  return takeReadings(act, jobId, turned)
}
