import type { Measurement } from '#contract/measurements.ts'
import { ofJoint } from '#core/bench/joints.ts'
import { ODD_KINDS, type OddKind, oddReadings } from '#core/bench/odd-reading.ts'
import type { ReadingSet } from '#core/bench/reading-set.ts'
import { isLater } from '#core/instants.ts'
import type { KeptReadings, OursOfEngine } from '#server/features/readings/store.ts'
import type { JobBench } from './held.ts'

export function isOddKind(kind: ReadingSet['kind']): kind is OddKind {
  return (ODD_KINDS as readonly string[]).includes(kind)
}

/** A set as it is shown, with what is odd about it; nothing is said of a set that was struck out, not read, or is hidden. */
export function withOdd(
  held: Pick<JobBench, 'record' | 'sheet'>,
  ours: OursOfEngine,
  { set }: KeptReadings,
  shown: Measurement,
): Measurement {
  if (!isOddKind(set.kind) || set.isStruck || shown.values.length === 0) return shown
  const odd = oddReadings({
    kind: set.kind,
    phase: set.phase,
    values: set.values,
    temperatureC: set.temperatureC,
    sheet: held.sheet,
    oursMm: set.phase === 'received' ? ours.received : ours.built,
    beforeMm: tapBefore(ofJoint(held.record, set.joint), set),
  })
  return odd.length === 0 ? shown : { ...shown, odd }
}

/** The width that the tap before this one left, since the webs were last parted; null where there was none. */
function tapBefore({ sets, pressings }: JobBench['record'], set: ReadingSet): number | null {
  const place = sets.findIndex((one) => one.id === set.id)
  const before = (place < 0 ? sets : sets.slice(0, place)).findLast(
    (one) => one.kind === 'width' && one.phase === 'building' && !one.isStruck && one.values.length > 0,
  )
  if (before === undefined) return null
  const isParted = pressings.some(
    (one) => one.direction === 'apart' && !one.isStruck && isLater(one.doneAt, before.doneAt) && !isLater(one.doneAt, set.doneAt),
  )
  return isParted ? null : (before.values.find((value) => value.place === '0')?.mm ?? null)
}
