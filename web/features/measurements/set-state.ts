import type { MeasurementNew } from '#contract/measurements.ts'
import { LENGTH_UNITS, type LengthUnit, readLength } from '#core/units.ts'
import type { Phase, PlaceToRead, ReadKind } from '#web/features/measurements/kinds.ts'
import { isNumber, type Keyed, NOTHING_KEYED } from '#web/lib/keyed.ts'
import { lengthKeyed } from '#web/lib/keyed-length.ts'
import { either, fields, figure, listOf, oneOf, optional, read, text } from '#web/lib/shape.ts'

/** One figure of the set as it was keyed or typed. */
export interface TakenFigure {
  typed: string
  unit: LengthUnit
  mm: number
}

/** A set being read. What of it is kept on the tablet, so that a reload, a lost network or another hand loses nothing. */
export interface KeptSet {
  /** Made when the set was begun, so that sending it twice writes it down once. */
  setId: string
  /** A figure for each place in order; null: not yet; left-out: said to be left out. */
  taken: (TakenFigure | 'left-out' | null)[]
  /** When the last figure was taken. */
  takenAt?: string | undefined
}

const takenFigure = fields<TakenFigure>({ typed: text, unit: oneOf(...LENGTH_UNITS), mm: figure })
const keptSet = fields<KeptSet>({
  setId: text,
  taken: listOf(either(takenFigure, oneOf('left-out', null))),
  takenAt: optional(text),
})

/** A set as the tablet kept it; undefined where it is none. */
export function readKeptSet(raw: unknown): KeptSet | undefined {
  return read(keptSet, raw)
}

export interface SetState extends KeptSet {
  /** The place being read; beyond the last once all are in. */
  at: number
  keyed: Keyed
}

export type SetAct =
  | { do: 'key'; keyed: Keyed }
  | { do: 'take'; figure: TakenFigure; now: string }
  | { do: 'leave-out' }
  | { do: 'back' }
  | { do: 'go'; at: number }
  | { do: 'afresh'; setId: string }

export function startSet(setId: string, places: readonly PlaceToRead[]): SetState {
  return { setId, taken: places.map(() => null), at: 0, keyed: NOTHING_KEYED }
}

/** What was kept, gone on with; a set of other places (a newer page) is begun afresh. */
export function resumeSet(kept: KeptSet, places: readonly PlaceToRead[]): SetState {
  if (kept.taken.length !== places.length) return startSet(kept.setId, places)
  return { ...kept, at: nextOpen(kept.taken, 0), keyed: NOTHING_KEYED }
}

function nextOpen(taken: KeptSet['taken'], from: number): number {
  for (let place = from; place < taken.length; place += 1) if (taken[place] === null) return place
  const earlier = taken.indexOf(null)
  return earlier < 0 ? taken.length : earlier
}

export function setAfter(state: SetState, act: SetAct): SetState {
  const put = (one: KeptSet['taken'][number]) => state.taken.map((was, place) => (place === state.at ? one : was))
  switch (act.do) {
    case 'key':
      return { ...state, keyed: act.keyed }
    case 'take': {
      if (state.at >= state.taken.length) return state
      const taken = put(act.figure)
      return { ...state, taken, takenAt: act.now, at: nextOpen(taken, state.at + 1), keyed: NOTHING_KEYED }
    }
    case 'leave-out': {
      if (state.at >= state.taken.length) return state
      const taken = put('left-out')
      return { ...state, taken, at: nextOpen(taken, state.at + 1), keyed: NOTHING_KEYED }
    }
    case 'back': {
      const at = Math.max(0, state.at - 1)
      return state.at === 0 ? { ...state, keyed: NOTHING_KEYED } : reopened(state, at)
    }
    case 'go':
      return reopened(state, act.at)
    case 'afresh':
      return { setId: act.setId, taken: state.taken.map(() => null), at: 0, keyed: NOTHING_KEYED }
  }
}

/** A figure gone back to is keyed again from nothing: half an old figure and half a new one is neither. */
function reopened(state: SetState, at: number): SetState {
  return { ...state, at, taken: state.taken.map((was, place) => (place === at ? null : was)), keyed: NOTHING_KEYED }
}

export function isInFull(state: KeptSet): boolean {
  return state.taken.every((one) => one !== null) && state.taken.some((one) => one !== 'left-out')
}

export function figureKeyed(keyed: Keyed, stepMm: number, nearMm: number | undefined): TakenFigure | undefined {
  if (!isNumber(keyed)) return undefined
  const typed = lengthKeyed(keyed.digits, stepMm, nearMm)
  return { typed, unit: 'mm', mm: Number(typed) }
}

/** What was typed with its unit, or why it cannot be read. */
export function figureTyped(typed: string, unit: LengthUnit): { ok: true; figure: TakenFigure } | { ok: false; detail: string } {
  const read = readLength(typed, unit)
  return read.ok
    ? { ok: true, figure: { typed: typed.trim(), unit: read.value.unit, mm: read.value.mm } }
    : { ok: false, detail: read.detail }
}

/** The figures taken so far, by place. */
export function figuresTaken(kept: KeptSet, places: readonly PlaceToRead[]): Readonly<Record<string, number>> {
  const read = places.flatMap(({ place }, index) => {
    const one = kept.taken[index]
    return one === null || one === undefined || one === 'left-out' ? [] : [[place, one.mm] as const]
  })
  return Object.fromEntries(read)
}

export interface SetAround {
  kind: ReadKind
  phase: Phase
  instrumentId: string | undefined
  temperatureC: number | undefined
}

/** The set as it goes to the book. */
export function setForBook(kept: KeptSet, places: readonly PlaceToRead[], around: SetAround): MeasurementNew {
  const { kind, phase, instrumentId, temperatureC } = around
  return {
    id: kept.setId,
    kind,
    phase,
    ...(kept.takenAt === undefined ? {} : { occurredAt: kept.takenAt }),
    ...(instrumentId === undefined ? {} : { instrumentId }),
    ...(temperatureC === undefined ? {} : { temperatureC }),
    values: places.flatMap(({ place }, index) => {
      const one = kept.taken[index]
      return one === null || one === undefined || one === 'left-out' ? [] : [{ place, ...one }]
    }),
  }
}
