import { clockOfMark } from '#core/bench/marks-run.ts'
import { READING_MM, TIR_MM } from '#core/limits.ts'
import type { Side } from '#core/runout-verdict.ts'
import { runOf } from '#web/features/truing/marks-said.ts'
import { cellsOf } from '#web/features/truing/marks-to-read.ts'
import { isOdd } from '#web/features/truing/odd-figure.ts'
import { type ReadingSetUp, readingSetUp } from '#web/features/truing/set-up.ts'
import { divisions, divisionsToMm, isNumber, type Keyed, keyedOf, NOTHING_KEYED } from '#web/lib/keyed.ts'
import { either, fields, figure, listOf, oneOf, optional, read, text } from '#web/lib/shape.ts'

export interface Taken {
  mm: number
  /** Where a full swing read highest. */
  highAtDeg?: number | undefined
}

/** A set being read. What of it is kept on the tablet, so that a reload or a lost network loses nothing. */
export interface KeptReading {
  /** Made when the set was begun, so that sending it twice writes it down once. */
  setId: string
  setUp: ReadingSetUp
  taken: (Taken | null)[]
  /** When the last figure was taken. */
  takenAt?: string | undefined
}

const taken = fields<Taken>({ mm: figure, highAtDeg: optional(figure) })
const keptReading = fields<KeptReading>({
  setId: text,
  setUp: readingSetUp,
  taken: listOf(either(taken, oneOf(null))),
  takenAt: optional(text),
})

/** A set as the tablet kept it; undefined where it is none. */
export function readKeptReading(raw: unknown): KeptReading | undefined {
  return read(keptReading, raw)
}

export interface ReadingState extends KeptReading {
  /** The cell being keyed; beyond the last once all are in. */
  at: number
  keyed: Keyed
  /** The figure keyed is far from last time, and the hand has been asked. */
  asked: boolean
}

export type ReadingAct =
  | { do: 'key'; keyed: Keyed }
  /** The big key; last: full swings of the last set, to ask about what lies far from it. */
  | { do: 'take'; keyed: Keyed; last: { [End in Side]?: number | undefined }; now: string }
  | { do: 'high'; deg: number; now: string }
  | { do: 'back' }
  | { do: 'go'; at: number }
  | { do: 'again'; side: Side }
  | { do: 'set-up'; setUp: ReadingSetUp }
  /** A keyway lies at the mark being keyed, and the dial falls into it. */
  | { do: 'skip'; now: string }
  /** Read a skipped mark after all. */
  | { do: 'unskip'; side: Side; deg: number }

export function startReading(setId: string, setUp: ReadingSetUp): ReadingState {
  const cells = cellsOf(setUp)
  return { setId, setUp, taken: cells.map(() => null), at: 0, keyed: NOTHING_KEYED, asked: false }
}

export function resumeReading(kept: KeptReading): ReadingState {
  const cells = cellsOf(kept.setUp)
  if (kept.taken.length !== cells.length) return startReading(kept.setId, kept.setUp)
  return { ...kept, at: firstOpen(kept.taken, kept.setUp), keyed: NOTHING_KEYED, asked: false }
}

export function readingAfter(state: ReadingState, act: ReadingAct): ReadingState {
  switch (act.do) {
    case 'key':
      return {
        ...state,
        keyed: act.keyed,
        asked: false,
        taken: state.taken.map((one, place) => (place === state.at && awaitsHigh(one, state.setUp) ? null : one)),
      }
    case 'take':
      return takeFigure(state, act)
    case 'high':
      return takeHigh(state, act.deg, act.now)
    case 'back':
      return goTo(state, Math.max(0, state.at - 1))
    case 'go':
      return goTo(state, act.at)
    case 'again':
      return readAgain(state, act.side)
    case 'set-up':
      return withSetUp(state, act.setUp)
    case 'skip':
      return skipMark(state, act.now)
    case 'unskip':
      return unskipMark(state, act.side, act.deg)
  }
}

/** All figures of the set are in. */
export function isComplete(state: KeptReading): boolean {
  return firstOpen(state.taken, state.setUp) === state.taken.length
}

function isIn(one: Taken | null | undefined, setUp: ReadingSetUp): boolean {
  return one !== null && one !== undefined && (setUp.readAt !== 'swing' || one.highAtDeg !== undefined)
}

/** A swing is in, but not yet where it reads highest; keying anew takes the swing back. */
export function awaitsHigh(one: Taken | null | undefined, setUp: ReadingSetUp): boolean {
  return setUp.readAt === 'swing' && one !== null && one !== undefined && one.highAtDeg === undefined
}

function firstOpen(all: readonly (Taken | null)[], setUp: ReadingSetUp): number {
  const open = all.findIndex((one) => !isIn(one, setUp))
  return open < 0 ? all.length : open
}

function goTo(state: ReadingState, at: number): ReadingState {
  const before = state.taken[at]
  return { ...state, at, keyed: before ? keyedOf(before.mm, state.setUp.stepMm) : NOTHING_KEYED, asked: false }
}

function takeFigure(state: ReadingState, act: ReadingAct & { do: 'take' }): ReadingState {
  const { setUp } = state
  const cell = cellsOf(setUp)[state.at]
  if (cell === undefined || refusalOf(act.keyed, setUp) !== undefined) return state
  const mm = divisionsToMm(divisions(act.keyed), setUp.stepMm)
  if (!state.asked && isOdd(mm - twelveOf(state, cell.side), act.last[cell.side])) return { ...state, keyed: act.keyed, asked: true }
  // Where a swing of nothing reads highest cannot be said and does not matter.
  const high = setUp.readAt === 'swing' && mm === 0 ? { highAtDeg: 0 } : {}
  const all = state.taken.map((one, place) => (place === state.at ? { mm, ...high } : one))
  return settled({ ...state, taken: all }, act.now)
}

/** Readings count from 12 once that is read; the dial may stand anywhere there. */
function twelveOf(state: ReadingState, side: Side): number {
  const cells = cellsOf(state.setUp)
  const place = cells.findIndex((cell) => cell.place === side && cell.atDeg === 0)
  return place < 0 || place === state.at ? 0 : (state.taken[place]?.mm ?? 0)
}

function takeHigh(state: ReadingState, deg: number, now: string): ReadingState {
  const all = state.taken.map((one, place) => (place === state.at && one !== null ? { ...one, highAtDeg: deg } : one))
  return settled({ ...state, taken: all }, now)
}

function settled(state: ReadingState, now: string): ReadingState {
  const at = firstOpen(state.taken, state.setUp)
  const { takenAt: _earlier, ...rest } = state
  const next = { ...rest, keyed: NOTHING_KEYED, asked: false, at }
  return at === state.taken.length ? { ...next, takenAt: now } : next
}

function readAgain(state: ReadingState, side: Side): ReadingState {
  const cells = cellsOf(state.setUp)
  const all = state.taken.map((one, place) => (cells[place]?.side === side ? null : one))
  const { takenAt: _earlier, ...rest } = state
  return { ...rest, taken: all, at: firstOpen(all, state.setUp), keyed: NOTHING_KEYED, asked: false }
}

/**
 * Another dial or other marks begin the set again: what is keyed so far was keyed in divisions of the first, at its marks.
 * Marks that run the other way do not: what was read under a mark stays with its name, and its clock angle is turned.
 */
function withSetUp(state: ReadingState, setUp: ReadingSetUp): ReadingState {
  const isTurned = runOf(state.setUp) !== runOf(setUp)
  const turned = (deg: number) => (isTurned ? clockOfMark(deg, 'other-way') : deg)
  const { skippedLeftDeg, skippedRightDeg } = state.setUp
  const next: ReadingSetUp = {
    ...setUp,
    ...(skippedLeftDeg === undefined ? {} : { skippedLeftDeg: skippedLeftDeg.map(turned) }),
    ...(skippedRightDeg === undefined ? {} : { skippedRightDeg: skippedRightDeg.map(turned) }),
  }
  const plan = (of: ReadingSetUp) => JSON.stringify([cellsOf(of).map(({ place, name }) => [place, name]), of.stepMm, of.instrumentId])
  if (plan(state.setUp) !== plan(next)) return startReading(state.setId, next)
  const taken = state.taken.map((one) => (one?.highAtDeg === undefined ? one : { ...one, highAtDeg: turned(one.highAtDeg) }))
  return { ...state, setUp: next, taken }
}

/** Fewer marks than this do not tell where the high spot is; the book refuses them too. */
const LEAST_MARKS = 3

/** Why the mark being keyed cannot be skipped; undefined where it can. */
export function skipRefusal({ setUp, at }: Pick<ReadingState, 'setUp' | 'at'>): string | undefined {
  const cell = cellsOf(setUp)[at]
  if (cell === undefined || setUp.readAt === 'swing') return 'Only a mark is skipped.'
  if (cell.atDeg === 0) return '12 is read again at the end, so it is not skipped. Move the dial along the shaft, off the keyway.'
  const left = cellsOf(setUp).filter((one) => one.place === cell.side).length - 1
  if (left >= LEAST_MARKS) return undefined
  return `Three marks are the least that tell a swing. ${setUp.readAt === 'four' ? 'Read at eight marks' : 'Read the others'}, or move the dial along the shaft.`
}

function skipMark(state: ReadingState, now: string): ReadingState {
  const cell = cellsOf(state.setUp)[state.at]
  if (cell === undefined || skipRefusal(state) !== undefined) return state
  const name = cell.side === 'left' ? 'skippedLeftDeg' : 'skippedRightDeg'
  const setUp = { ...state.setUp, [name]: [...(state.setUp[name] ?? []), cell.atDeg] }
  return settled({ ...state, setUp, taken: state.taken.filter((_, place) => place !== state.at) }, now)
}

function unskipMark(state: ReadingState, side: Side, deg: number): ReadingState {
  const name = side === 'left' ? 'skippedLeftDeg' : 'skippedRightDeg'
  const setUp = { ...state.setUp, [name]: (state.setUp[name] ?? []).filter((one) => one !== deg) }
  const at = cellsOf(setUp).findIndex((cell) => cell.place === side && cell.atDeg === deg)
  if (at < 0) return state
  const { takenAt: _earlier, ...rest } = state
  return goTo({ ...rest, setUp, taken: [...state.taken.slice(0, at), null, ...state.taken.slice(at)] }, at)
}

/** Why a figure cannot be taken as it is keyed; undefined where it can. */
export function refusalOf(keyed: Keyed, setUp: ReadingSetUp): string | undefined {
  if (!isNumber(keyed)) return undefined
  const mm = divisionsToMm(divisions(keyed), setUp.stepMm)
  if (setUp.readAt !== 'swing') return Math.abs(mm) > READING_MM.max ? 'No dial swings that far. Key it again.' : undefined
  if (mm < 0) return 'A full swing is never less than 0. Take the minus off.'
  return mm > TIR_MM.max ? 'No dial swings that far. Key it again.' : undefined
}
