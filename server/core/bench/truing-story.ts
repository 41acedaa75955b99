import { type BreakAway, breakAway, type Force, nextForce } from '#core/bench/break-away.ts'
import { type FaultsTold, faultDoubt, marksMayRunTheOtherWay, moveTurn, type Turn } from '#core/bench/move-told.ts'
import type { RunoutSetUp } from '#core/bench/reading.ts'
import type { RunoutFigures } from '#core/bench/runout-set.ts'
import { stopAdvice, type TruingStep } from '#core/bench/stop-advice.ts'
import type { TruingOnSupports } from '#core/truing.ts'
import type { Half, TruingAction } from '#core/truing-moves.ts'

/** A set of readings as the story of a truing needs it. */
export interface SetTold {
  id: string
  atMs: number
  setUp: RunoutSetUp
  figures: RunoutFigures
}

export interface MoveMadeTold {
  atMs: number
  personId: string
  action: TruingAction
  half?: Half | undefined
  force?: Force | undefined
  /** The set that led to it, and the one read after it before the next move; undefined where hidden or not read. */
  before?: SetTold | undefined
  after?: SetTold | undefined
}

export interface TurnTold {
  turn: Turn
  says: string
  /** The readings look as if the marks ran the other way round. */
  askMarks?: true
}

const TURN_WORDS: Readonly<Record<Turn, string>> = {
  'as-foretold': 'It went as foretold.',
  short: 'It moved the right way, not the whole way.',
  'too-far': 'It went past.',
  'other-way': 'It went the other way.',
  nothing: 'It did not move as far as these dials can tell.',
  'not-known': '',
}
const ASK_MARKS = 'Which way do your marks run? They count clockwise seen from the drive end, the same marks for both dials.'

/**
 * What one move did, in words. A move whose two sets were not read in the same set-up on both supports is not told.
 *
 * Source: `moveTurn`, `marksMayRunTheOtherWay`; the words: common practice, no source.
 */
export function toldOf(move: MoveMadeTold): TurnTold | null {
  const { before, after } = move
  const was = onSupports(before)
  const now = onSupports(after)
  if (before === undefined || after === undefined || was === null || now === null || !isSameSetUp(before.setUp, after.setUp)) return null
  const doubt = doubtOf(after)
  const aim = was.bestReachable
  const turn = moveTurn({ move, before: was.faults, after: now.faults, aim, doubt })
  if (turn === 'not-known') return null
  const askMarks = marksMayRunTheOtherWay(turn, was.faults, now.faults, was.faults.swingMm - aim.swingMm)
  return { turn, says: askMarks ? `${TURN_WORDS[turn]} ${ASK_MARKS}` : TURN_WORDS[turn], ...(askMarks ? { askMarks } : {}) }
}

/** The break-away band of this crank under one hand, with the blow to try next, in words; null where nothing was learned. */
export function bandOf(moves: readonly MoveMadeTold[], personId: string): (BreakAway & { next: Force; says: string }) | null {
  const blows = moves.flatMap((move) => {
    const told = move.action === 'strike' && move.force !== undefined && move.personId === personId ? toldOf(move) : null
    return told === null || move.force === undefined ? [] : [{ force: move.force, turn: told.turn }]
  })
  const band = breakAway(blows)
  if (band === null) return null
  const next = nextForce(band)
  const parts = [
    ...(band.held === undefined ? [] : [`${band.held} did nothing`]),
    ...(band.moved === undefined ? [] : [`${band.moved} moved it`]),
    ...(band.went.past === 0 ? [] : [`${band.went.past} of ${band.went.of} that moved it went past`]),
  ]
  const sticks = band.uneven ? ' It sticks and slips: many light blows with the thumb holding it the right way.' : ''
  return { ...band, next, says: `On this crank, by your hand: ${parts.join(', ')}.${sticks}` }
}

export const STOPS = ['inside-the-doubt', 'no-hand-cure', 'reversals', 'no-gain'] as const
export interface StopTold {
  because: (typeof STOPS)[number]
  says: string
}

/**
 * Whether to stop, and why: what is left is less than the dials can tell, no blow or wedge cures it, or the hand goes round
 * in circles. Null: go on. Source: as `stopAdvice`; the others: the truing sum's own verdict and moves.
 */
export function stopOf(sets: readonly SetTold[], moves: readonly MoveMadeTold[]): StopTold | null {
  const last = sets.at(-1)
  const sum = onSupports(last)
  if (last === undefined || sum === null || sum.verdict === 'true') return null
  const first = sum.moves[0]?.action
  if (sum.verdict === 'throw' || sum.verdict === 'cocked')
    return { because: 'no-hand-cure', says: sum.moves.at(-1)?.say ?? 'No blow or wedge cures what is left.' }
  if (first === 'leave')
    return { because: 'inside-the-doubt', says: 'What is left is less than these dials can tell. Read it with a finer dial, or leave it.' }
  const steps: TruingStep[] = [
    ...sets.map((set): TruingStep => ({ kind: 'set', atMs: set.atMs, worstMm: worstOf(set.figures) })),
    ...moves.map((move): TruingStep => ({ kind: 'move', atMs: move.atMs, turn: toldOf(move)?.turn ?? 'not-known' })),
  ].sort((one, other) => one.atMs - other.atMs)
  const stop = stopAdvice(steps, Math.SQRT2 * Math.max(last.figures.giveOrTake.leftMm, last.figures.giveOrTake.rightMm))
  if (stop === null) return null
  const why = stop.because === 'reversals' ? `${stop.count} reversals without gain` : `${stop.count} minutes without gain`
  return {
    because: stop.because,
    says: `${why}: walk away for a while. Then wash, oil the seats, seat it again and read again; half of what will not come is the measuring.`,
  }
}

function worstOf({ left, right }: RunoutFigures): number {
  return Math.max(left?.tirMm ?? 0, right?.tirMm ?? 0)
}

function onSupports(set: SetTold | undefined): TruingOnSupports | null {
  const sum = set?.figures.sum
  return sum !== undefined && 'bestReachable' in sum ? sum : null
}

function doubtOf({ setUp, figures }: SetTold): FaultsTold {
  return faultDoubt(setUp, figures.giveOrTake)
}

function isSameSetUp(one: RunoutSetUp, other: RunoutSetUp): boolean {
  return (
    (['held', 'supportLeftMm', 'supportRightMm', 'dialLeftMm', 'dialRightMm'] as const).every((name) => one[name] === other[name]) &&
    !isTurnedRound(one, other)
  )
}

/** One was read by marks that run the one way, the other by marks that run the other: one of the two hands counted wrong. */
function isTurnedRound(one: RunoutSetUp, other: RunoutSetUp): boolean {
  return (one.marksRun ?? 'clockwise') !== (other.marksRun ?? 'clockwise')
}
