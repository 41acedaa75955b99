import type { QueryClient } from '@tanstack/react-query'
import type { Instrument } from '#contract/instruments.ts'
import type { Measurement, MeasurementNew } from '#contract/measurements.ts'
import type { Kept } from '#web/lib/outbox/post-kept.ts'
import { BY_YOU, handId } from '#web/lib/outbox/shown.ts'
import type { Press } from '#web/lib/outbox/use-kept-act.ts'

const WORDS: Readonly<Record<MeasurementNew['kind'], string>> = {
  width: 'width over webs',
  clearance: 'side clearance',
  play: 'big-end play',
  rod: 'rod',
  pin: 'pin',
  bore: 'bores',
  stack: 'webs, rod and washers apart',
  runout: 'both ends',
  phase: 'angles of the throws',
  centre: 'swing of the middle',
}

/** A set of readings on its way into the book, through the outbox. `runout`: what the core makes of it, until the book answers. */
export function keptSet(
  jobId: string,
  given: MeasurementNew,
  { key, at }: Press,
  client: QueryClient,
  runout?: Measurement['runout'],
): Kept<Measurement> {
  const occurredAt = given.occurredAt ?? at
  const { id = key, kind, phase, joint, values, instrumentId, temperatureC, setup, peakTonnes, notReadBecause, note } = given
  const dial = client.getQueryData<Instrument[]>(['instruments'])?.find((one) => one.id === instrumentId)
  return {
    path: `/api/jobs/${jobId}/measurements`,
    body: given,
    key,
    lane: jobId,
    jobId,
    what:
      notReadBecause === undefined
        ? `${WORDS[kind]}, ${values.length} ${values.length === 1 ? 'reading' : 'readings'}`
        : `${WORDS[kind]}, not read`,
    occurredAt,
    instead: {
      id,
      kind,
      phase,
      ...(joint === undefined ? {} : { joint }),
      by: BY_YOU,
      byId: handId(),
      occurredAt,
      recordedAt: occurredAt,
      values,
      ...(dial === undefined ? {} : { instrument: { id: dial.id, name: dial.name, stepMm: dial.stepMm } }),
      ...(temperatureC === undefined ? {} : { temperatureC }),
      ...(setup === undefined ? {} : { setup }),
      ...(peakTonnes === undefined ? {} : { peakTonnes }),
      ...(runout === undefined ? {} : { runout }),
      ...(notReadBecause === undefined ? {} : { notReadBecause }),
      ...(note === undefined ? {} : { note }),
    },
  }
}
