import type { Check, Truing } from '#contract/truing.ts'
import { checkState } from '#core/bench/check-state.ts'
import { foretoldAfter } from '#core/bench/foretold.ts'
import { ofJoint } from '#core/bench/joints.ts'
import { lastPressedAt } from '#core/bench/parting.ts'
import { repeatFlag } from '#core/bench/reading-quality.ts'
import { hiddenSets, lastStirredAt } from '#core/bench/second-check.ts'
import { bandOf, type MoveMadeTold, type SetTold, stopOf, toldOf } from '#core/bench/truing-story.ts'
import type { Joint } from '#core/crank-build.ts'
import { isLater, millisecondsOf } from '#core/instants.ts'
import { type Arrival, cameInLate } from '#core/late-arrival.ts'
import { PATHS } from '#core/steps.ts'
import type { JobBench } from '#server/features/measurements/store.ts'
import { type KeptReadings, shownTo } from '#server/features/readings/store.ts'
import type { EndSwings, KeptMove } from './store.ts'

/** The truing bench of a job as this person may see it; of one throw where one is named, on its own two shafts. */
export function truingAnswer(job: JobBench, viewerId: string, joint?: Joint): Truing {
  const held = ofJointAlone(job, joint)
  const hidden = hiddenSets(job.record, viewerId)
  const sets = setsOfThisTruing(held)
  const moves = held.moves.filter((move) => !isLater(held.truingSince, move.doneAt))
  const last = sets.at(-1)
  const stirredAt = lastStirredAt(held.record)
  const stale = last !== undefined && stirredAt !== null && !isLater(last.set.doneAt, stirredAt)
  const figures = last === undefined || hidden.has(last.set.id) ? undefined : last.shown.runout
  const after = (move: KeptMove) => setAfter(move, { sets, moves: held.moves, hidden })
  const told = setsTold(sets, hidden)
  const story = moves.map((move) => moveOf(move, told, after(move)))
  const advice = figures?.sum === undefined || !figures.closes.agree || stale ? undefined : figures.sum
  const band = bandOf(story, viewerId)
  const stop = stale ? null : stopOf(told, story)
  const ahead = aheadOf(advice, last)
  const arrivals = [...held.sets.map(({ shown }) => shown), ...held.moves.map(({ shown, recordedAt }) => ({ ...shown, recordedAt }))]
  return {
    sets: sets.map((kept) => setLine(kept, hidden, arrivals)),
    moves: moves.map((move, index) => ({ ...move.shown, ...cameOf(after(move)), ...toldWords(story[index]) })),
    ...(last === undefined ? {} : { last: shownTo(hidden, last) }),
    stale,
    ...(advice === undefined ? {} : { advice }),
    ...(figures === undefined ? {} : { figures }),
    repeats: repeatsOf(told, story),
    ...(band === null ? {} : { band }),
    ...(stop === null ? {} : { stop }),
    ...(ahead === null ? {} : { ahead }),
  }
}

/** The sets of the whole crank with every move; or of one throw those that were made there, since it was parted. */
function ofJointAlone(held: JobBench, joint: Joint | undefined): JobBench {
  const record = ofJoint(held.record, joint)
  const sets = held.sets.filter(({ set }) => set.joint === joint)
  if (joint === undefined) return { ...held, record, sets }
  const partedAt = lastPressedAt(record.pressings.filter((one) => one.direction === 'apart'))
  const moves = held.moves.filter(({ shown }) => shown.joint === joint)
  return { ...held, record, sets, moves, truingSince: partedAt ?? held.truingSince }
}

function aheadOf(advice: Truing['advice'], last: KeptReadings | undefined): EndSwings | null {
  const move = advice?.moves[0]
  if (advice === undefined || move === undefined || !('bestReachable' in advice) || !last?.set.setUp) return null
  return foretoldAfter(advice, move, last.set.setUp)
}

/** The sets that say how the truing goes: since the webs were called together, and of other kinds since the crank came in. */
function setsOfThisTruing(held: JobBench): KeptReadings[] {
  const isRebuild = PATHS[held.kind].includes('together')
  const sets = held.sets.filter(({ set }) => {
    if (set.kind !== 'runout' || set.isStruck || set.notReadBecause !== null) return false
    return isRebuild ? set.phase !== 'received' && !isLater(held.truingSince, set.doneAt) : true
  })
  return sets.sort((one, other) => millisecondsOf(one.set.doneAt) - millisecondsOf(other.set.doneAt))
}

function setLine({ shown }: KeptReadings, hidden: ReadonlySet<string>, arrivals: readonly Arrival[]): Truing['sets'][number] {
  const { id, phase, occurredAt: at, by, runout, setup } = shown
  const line = { id, phase, at, by, ...(cameInLate(shown, arrivals) ? { lateAt: shown.recordedAt } : {}) }
  if (hidden.has(id)) return { ...line, hidden: true }
  return {
    ...line,
    ...(setup?.marksRun === undefined ? {} : { marksRun: setup.marksRun }),
    ...(runout?.left === undefined ? {} : { leftTirMm: runout.left.tirMm }),
    ...(runout?.right === undefined ? {} : { rightTirMm: runout.right.tirMm }),
  }
}

/** What was read after a move and before the next one; two moves without a reading between have come to one end together. */
function setAfter(
  move: KeptMove,
  bench: { sets: readonly KeptReadings[]; moves: readonly KeptMove[]; hidden: ReadonlySet<string> },
): KeptReadings | undefined {
  const after = bench.sets.find(({ set }) => isLater(set.doneAt, move.doneAt))
  if (after === undefined || bench.hidden.has(after.set.id)) return undefined
  const later = bench.moves.slice(bench.moves.indexOf(move) + 1)
  return later.some((other) => isLater(after.set.doneAt, other.doneAt)) ? undefined : after
}

function cameOf(after: KeptReadings | undefined): { came?: EndSwings } {
  const { left, right } = after?.shown.runout ?? {}
  return left === undefined || right === undefined ? {} : { came: { leftTirMm: left.tirMm, rightTirMm: right.tirMm } }
}

/** The second check of a job as its reader may see it. */
export function checkAnswer(held: JobBench, viewerId: string): Check {
  const { check, next, mayRead, because, agree, says } = checkState(held.record, viewerId)
  const hidden = hiddenSets(held.record, viewerId)
  const shown = (id: string | undefined) => {
    const kept = held.sets.find((one) => one.set.id === id)
    return kept === undefined ? undefined : shownTo(hidden, kept)
  }
  const [first, second, third] = [shown(check.first?.id), shown(check.second?.id), shown(check.third?.id)]
  return {
    mayRead,
    ...(because === null ? {} : { because }),
    next,
    ...(first === undefined ? {} : { first }),
    ...(second === undefined ? {} : { second }),
    ...(third === undefined ? {} : { third }),
    ...(agree === null ? {} : { agree }),
    says,
  }
}

/** The sets of this truing as the sums of the story take them; hidden ones left out. */
function setsTold(sets: readonly KeptReadings[], hidden: ReadonlySet<string>): SetTold[] {
  return sets.flatMap(({ set }) =>
    set.runout === null || set.setUp === null || hidden.has(set.id)
      ? []
      : [{ id: set.id, atMs: millisecondsOf(set.doneAt), setUp: set.setUp, figures: set.runout }],
  )
}

function moveOf({ shown, doneAt, personId }: KeptMove, sets: readonly SetTold[], after: KeptReadings | undefined): MoveMadeTold {
  const { action, half, force, beforeId } = shown
  const setOf = (id: string | undefined) => sets.find((set) => set.id === id)
  return { atMs: millisecondsOf(doneAt), personId, action, half, force, before: setOf(beforeId), after: setOf(after?.set.id) }
}

function toldWords(move: MoveMadeTold | undefined): { told?: NonNullable<Truing['moves'][number]['told']> } {
  const told = move === undefined ? null : toldOf(move)
  return told === null ? {} : { told }
}

/** Sets since the last move, where they were read in a row. */
function repeatsOf(sets: readonly SetTold[], moves: readonly MoveMadeTold[]): string[] {
  const since = moves.at(-1)?.atMs ?? Number.NEGATIVE_INFINITY
  const row = sets.filter((set) => set.atMs > since)
  return (['left', 'right'] as const).flatMap((side) => {
    const swings = row.flatMap(({ figures }) => figures[side]?.tirMm ?? [])
    const giveOrTake = row.at(-1)?.figures.giveOrTake
    const flag = giveOrTake && repeatFlag(side, swings, side === 'left' ? giveOrTake.leftMm : giveOrTake.rightMm)
    return flag ? [`${side === 'left' ? 'Left' : 'Right'}: ${flag.says} ${flag.do}`] : []
  })
}
