import type { z } from 'zod'
import type { MoveNew, move } from '#contract/truing.ts'
import { foretoldAfter } from '#core/bench/foretold.ts'
import type { ReadingSet } from '#core/bench/reading-set.ts'
import type { RunoutFigures } from '#core/bench/runout-set.ts'
import { hiddenSets } from '#core/bench/second-check.ts'
import { wrapDegrees } from '#core/clock-angle.ts'
import { jointsOf, jointWords } from '#core/crank-build.ts'
import { doneWord, PATHS } from '#core/steps.ts'
import type { TruingMove } from '#core/truing-moves.ts'
import { addEvent } from '#server/features/events/store.ts'
import { type JobBench, openBench } from '#server/features/measurements/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, Problem } from '#server/plugins/errors.ts'
import * as store from './store.ts'

/** Writes a move down after it was made, with what a perfect one would leave; what it came to is read next. */
export async function logMove(act: Act, jobId: string, wanted: MoveNew): Promise<z.infer<typeof move>> {
  const held = await openBench(act, jobId)
  mustBeMoved(held)
  mustNameJoint(held, wanted)
  const before = setBefore(held, wanted, act.by.id)
  mustBeWhole(wanted, before)
  const { shown } = await store.addMove(act, jobId, wanted, foretoldOf(wanted, before))
  await addEvent(act, jobId, { kind: 'moved', says: moveWords(wanted), occurredAt: wanted.occurredAt, data: { moveId: shown.id } })
  act.note('log move', 'truing_move', shown.id, { after: shown })
  return shown
}

function mustBeMoved({ kind, state, tag }: JobBench): void {
  if (!PATHS[kind].includes('trued')) throw new Problem('conflict-state', 'A report leaves the crank as it came: nothing is struck.')
  if (state === 'booked' || state === 'measured')
    throw new Problem('conflict-state', `${tag} is ${doneWord(state)}: nothing is struck before it is agreed.`)
}

/** On a crank with several throws a blow is on the webs of one joint. */
function mustNameJoint({ build }: JobBench, { joint, action }: MoveNew): void {
  const joints = jointsOf(build)
  if (joints.length === 0 && joint !== undefined)
    throw fieldFault('/joint', 'not-for-this', 'This crank has one throw: there is no joint to name.')
  if (joint !== undefined && !joints.includes(joint)) throw fieldFault('/joint', 'unknown', 'The sheet of this engine has no such joint.')
  if (joints.length > 0 && joint === undefined && action !== 'leave')
    throw fieldFault('/joint', 'missing', 'Say which joint took it: it moved the webs of one.')
}

function setBefore(held: JobBench, { beforeId, joint }: MoveNew, personId: string): ReadingSet {
  const set = held.record.sets.find((one) => one.id === beforeId)
  if (set?.kind !== 'runout' || set.isStruck || set.runout === null)
    throw fieldFault('/beforeId', 'unknown', 'This is no standing set of runout readings of this job.')
  if (set.joint !== undefined && set.joint !== joint) throw fieldFault('/beforeId', 'unknown', 'That reading is of another throw.')
  if (hiddenSets(held.record, personId).has(set.id))
    throw fieldFault('/beforeId', 'hidden', 'This reading is kept from you until the second is in.')
  return set
}

/** What a move has to say: a blow its half and its mark, and that it was advised only where the sum said so. */
function mustBeWhole(wanted: MoveNew, before: ReadingSet): void {
  const { action, half, atDeg, force, asAdvised } = wanted
  if (action === 'strike') {
    if (half === undefined) throw fieldFault('/half', 'missing', 'Say which half took the blow.')
    if (atDeg === undefined) throw fieldFault('/atDeg', 'missing', 'Say at which mark: degrees clockwise from the pin.')
  } else {
    if (half !== undefined) throw fieldFault('/half', 'not-for-this', 'Only a blow is on one half.')
    if (atDeg !== undefined) throw fieldFault('/atDeg', 'not-for-this', 'Only a blow is at a mark.')
    if (force !== undefined) throw fieldFault('/force', 'not-for-this', 'Only a blow is light, firm or hard.')
  }
  if (asAdvised && !advised(before.runout).some((move) => move.action === action && (action !== 'strike' || isSameBlow(move, wanted))))
    throw fieldFault('/asAdvised', 'not-advised', 'The sum of that reading did not advise this.')
}

function advised(figures: RunoutFigures | null): readonly TruingMove[] {
  return figures?.sum?.moves ?? []
}

/** The right web struck at 3 and the left web struck at 9 turn the webs the same way about the pin. */
function isSameBlow(move: TruingMove, { half, atDeg = 0 }: MoveNew): boolean {
  return move.half === half ? move.atDeg === atDeg : move.atDeg === wrapDegrees(atDeg + 180)
}

/** Only a reading on both supports says what a perfect move would leave at both ends. */
function foretoldOf(wanted: MoveNew, before: ReadingSet): store.EndSwings | null {
  const sum = before.runout?.sum
  if (sum === undefined || !('bestReachable' in sum) || before.setUp === null) return null
  return foretoldAfter(sum, wanted, before.setUp)
}

const DONE = { squeeze: 'Squeezed', wedge: 'Wedged', part: 'To be pressed apart', leave: 'Left alone' } as const

function moveWords({ action, joint, half, atDeg, force }: MoveNew): string {
  const at = joint === undefined ? '' : `${jointWords(joint)}: `
  if (action !== 'strike') return `${at}${DONE[action]}.`
  const mark = ({ 0: '12', 90: '3', 180: '6', 270: '9' } as Record<number, string>)[atDeg ?? 0]
  return `${at}Struck the ${half} web at ${mark === undefined ? `${atDeg}°` : `mark ${mark}`}${force === undefined ? '' : `, ${force}`}.`
}
