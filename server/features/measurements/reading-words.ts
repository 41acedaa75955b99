/** Sentences of the history about readings: without a figure, because the first reading is kept from the second reader. */
import type { Measurement, MeasurementNew } from '#contract/measurements.ts'
import type { ReadingKind, ReadingPhase } from '#core/bench/reading-set.ts'
import { jointWords } from '#core/crank-build.ts'

const KIND: Readonly<Record<ReadingKind, string>> = {
  width: 'Width over webs',
  clearance: 'Side clearance of the rod',
  play: 'Big-end play',
  rod: 'The rod',
  pin: 'The pin',
  bore: 'The bores',
  stack: 'Webs, rod and washers',
  runout: 'Runout',
  phase: 'The angles of the throws',
  centre: 'The swing of the middle',
}
const PHASE: Readonly<Record<ReadingPhase, string>> = {
  received: ' as received',
  kit: ' of the kit',
  building: ' on the way',
  built: '',
  second: ' for the second check',
  third: ' a third time',
}

export function readWords(set: Pick<MeasurementNew, 'kind' | 'phase' | 'joint' | 'notReadBecause'>): string {
  const { notReadBecause } = set
  return notReadBecause === undefined ? `${saidOf(set)}: read.` : `${saidOf(set)}: not read, because ${notReadBecause}`
}

export function struckWords(set: Measurement, because: string): string {
  return `${saidOf(set)}: struck out. ${because}`
}

function saidOf({ kind, phase, joint }: Pick<MeasurementNew, 'kind' | 'phase' | 'joint'>): string {
  const said = `${KIND[kind]}${PHASE[phase]}`
  return joint === undefined ? said : `${jointWords(joint)}, ${said.charAt(0).toLowerCase()}${said.slice(1)}`
}
