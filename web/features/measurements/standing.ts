import type { Bench } from '#contract/bench.ts'
import type { Measurement } from '#contract/measurements.ts'
import { isLater } from '#core/instants.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import type { JobKind, JobState } from '#core/steps.ts'
import type { PinAndBore } from '#web/features/measurements/fit-now.tsx'
import { phasesFor, type ReadKind } from '#web/features/measurements/kinds.ts'

type Taken = Readonly<Record<string, number>>

function standing(bench: Bench, fits: (set: Measurement) => boolean): Measurement[] {
  return bench.measurements.filter((set) => set.struck === undefined && set.values.length > 0 && fits(set))
}

function at(set: Measurement | undefined, begins: string): number[] {
  return (set?.values ?? []).filter((value) => value.place.startsWith(begins)).map((value) => value.mm)
}

/** What is being keyed for one web, as far as it is in. */
function keyed(taken: Taken | undefined, begins: string): number[] {
  return Object.entries(taken ?? {}).flatMap(([place, mm]) => (place.startsWith(begins) ? [mm] : []))
}

export interface KeyedNow {
  kind: 'pin' | 'bore'
  /** The pin keyed is the kit's. */
  ofKit: boolean
  taken: Taken
}

/**
 * Pin and bore of each web as the book's fit takes them: the newest bore, and the newest pin, the kit's before the old one.
 * What is being keyed now stands in for its own kind, so that the fit shows before the set is kept.
 */
export function pinAndBores(bench: Bench, now?: KeyedNow): { webs: Record<Side, PinAndBore>; ofOldPin: boolean } {
  const wanted: (set: Measurement, side: Side, kind: 'pin' | 'bore') => boolean = (set, side, kind) =>
    set.kind === kind && at(set, `${side}-`).length > 0
  const kitKeyed = now?.kind === 'pin' && now.ofKit
  const oldKeyed = now?.kind === 'pin' && !now.ofKit && Object.keys(now.taken).length > 0
  let ofOldPin = false
  const webOf = (side: Side): PinAndBore => {
    const kit = kitKeyed ? keyed(now.taken, `${side}-`) : []
    const kitBefore = at(standing(bench, (set) => wanted(set, side, 'pin') && set.phase === 'kit').at(-1), `${side}-`)
    const old = oldKeyed
      ? keyed(now.taken, `${side}-`)
      : at(standing(bench, (set) => wanted(set, side, 'pin') && set.phase !== 'kit').at(-1), `${side}-`)
    const fromKit = kit.length > 0 ? kit : kitBefore
    // The old pin being keyed is what is looked at, also where the kit's is in the book already.
    const pinMm = oldKeyed ? old : fromKit.length > 0 ? fromKit : old
    if (pinMm === old && old.length > 0) ofOldPin = true
    const boreNow = now?.kind === 'bore' ? keyed(now.taken, `${side}-`) : []
    const boreMm = boreNow.length > 0 ? boreNow : at(standing(bench, (set) => wanted(set, side, 'bore')).at(-1), `${side}-`)
    return { pinMm, boreMm }
  }
  const [left, right] = SIDES.map(webOf)
  return { webs: { left: left!, right: right! }, ofOldPin }
}

/** Whether a kind was read at the joint of this bench: for the time that its screen opens at, and since the joint last came apart. */
export function isReadAt(bench: Bench, kind: ReadKind, job: { kind: JobKind; state: JobState }): boolean {
  const { value: phase } = phasesFor(kind, job.kind, job.state)[0]
  const partedAt = bench.pressings.findLast((one) => one.direction === 'apart' && one.struck === undefined)?.occurredAt ?? null
  const isOfNow = (set: Measurement) =>
    set.kind === kind && (phase === 'received' || phase === 'kit' ? set.phase === phase : set.phase !== 'received')
  return standing(bench, isOfNow).some((set) => phase === 'received' || isLater(set.occurredAt, partedAt))
}

/** Webs, rod and washers as last measured apart; undefined while one of them is not. */
export function stackOf(bench: Bench): { webLeftMm: number; webRightMm: number; rodWidthMm: number; washersMm: number[] } | undefined {
  const set = standing(bench, (one) => one.kind === 'stack').at(-1)
  const value = (place: string) => set?.values.filter((one) => one.place === place).at(-1)?.mm
  const [webLeftMm, webRightMm, rodWidthMm] = [value('web-left'), value('web-right'), value('rod')]
  if (webLeftMm === undefined || webRightMm === undefined || rodWidthMm === undefined) return undefined
  return { webLeftMm, webRightMm, rodWidthMm, washersMm: ['washer-1', 'washer-2'].flatMap((place) => value(place) ?? []) }
}
