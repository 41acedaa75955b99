/** Sentences of the history about readings: without a figure, because the first reading is kept from the second reader. */
import type { Measurement, MeasurementNew } from '#contract/measurements.ts'
import type { ReadingKind, ReadingPhase } from '#core/bench/reading-set.ts'

const KIND: Readonly<Record<ReadingKind, string>> = {
  width: 'Width over webs',
  clearance: 'Side clearance of the rod',
  play: 'Big-end play',
  rod: 'The rod',
  pin: 'The pin',
  bore: 'The bores',
  stack: 'Webs, rod and washers',
  runout: 'Runout',
}
const PHASE: Readonly<Record<ReadingPhase, string>> = {
  received: ' as received',
  kit: ' of the kit',
  building: ' on the way',
  built: '',
  second: ' for the second check',
  third: ' a third time',
}

export function readWords({ kind, phase, notReadBecause }: MeasurementNew): string {
  const said = `${KIND[kind]}${PHASE[phase]}`
  return notReadBecause === undefined ? `${said}: read.` : `${said}: not read, because ${notReadBecause}`
}

export function struckWords({ kind, phase }: Measurement, because: string): string {
  return `${KIND[kind]}${PHASE[phase]}: struck out. ${because}`
}
