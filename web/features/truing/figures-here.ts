import type { QueryClient } from '@tanstack/react-query'
import type { Engine } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { Job } from '#contract/jobs.ts'
import type { MeasurementNew } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import type { SettingsAnswer } from '#contract/settings.ts'
import { sheetOf } from '#core/bench/joint-sheet.ts'
import { runoutFigures } from '#core/bench/runout-set.ts'
import { hasSeveralThrows } from '#core/crank-build.ts'

/** Without a named dial a hundredth one is taken, the commonest of the bench; the book does the same. */
const USUAL_DIAL_STEP_MM = 0.01

/** What a set comes to, by the core's own sum on what this page knows of the crank; the book's answer stands. */
export function figuresHere(client: QueryClient, jobId: string, set: MeasurementNew): RunoutFigures | undefined {
  const job = client.getQueryData<Job>(['jobs', 'one', jobId, 'job'])
  const sheet = client.getQueryData<Engine>(['engines', 'one', job?.crank.engineId ?? ''])
  const settings = client.getQueryData<SettingsAnswer>(['settings'])
  if (sheet === undefined || settings === undefined || set.setup === undefined || set.values.length === 0) return undefined
  const dial = client.getQueryData<Instrument[]>(['instruments'])?.find((one) => one.id === set.instrumentId)
  return runoutFigures({
    values: set.values.map(({ place, mm, atDeg }) => ({ place, mm, ...(atDeg === undefined ? {} : { atDeg }) })),
    setUp: set.setup,
    dialStepMm: dial?.stepMm ?? USUAL_DIAL_STEP_MM,
    register: dial,
    sheet: sheetOf(Object.fromEntries(sheet.figures.map((figure) => [figure.name, figure.value])), set.joint),
    several: set.joint === undefined && hasSeveralThrows(sheet.build ?? null),
    shopLimitMm: settings.houseLimitMm,
    rule: settings.guardRule,
  }) as RunoutFigures
}
