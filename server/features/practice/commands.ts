import type { PracticeEnd, PracticeMoveNew, PracticeNew, PracticeRun } from '#contract/practice.ts'
import { scorePractice } from '#core/practice.ts'
import { PRACTICE_MOVES_MOST } from '#core/practice-hand.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { shownRun } from './shown.ts'
import * as store from './store.ts'

/** Puts a made-up crank before whoever practises; the seed comes from outside and is told to nobody. */
export async function startPractice(act: Act, wanted: PracticeNew, seed: number): Promise<PracticeRun> {
  if ((await store.openRunOf(act.tx, act.by.id)) !== null)
    throw new Problem('conflict-state', 'A practice crank of yours is not put down yet. Go on with it, or leave it.')
  const run = { id: wanted.id ?? act.newId(), seed, level: wanted.level }
  await store.addRun(act, run)
  act.note('start practice', 'practice_run', run.id, { after: { level: wanted.level } })
  return shownRun(await mustBeThere(act, run.id))
}

/** A move with what was said before it. Answers the run with what the dials read now. */
export async function makePracticeMove(act: Act, id: string, wanted: PracticeMoveNew): Promise<PracticeRun> {
  const run = await ownOpenRun(act, id)
  if (run.steps.length >= PRACTICE_MOVES_MOST)
    throw new Problem('conflict-state', `${PRACTICE_MOVES_MOST} moves are enough for one crank. Call it, or leave it.`)
  if (wanted.n !== run.steps.length)
    throw fieldFault('/n', 'not-next', `The next move of this crank has the number ${run.steps.length}. Look at it again first.`)
  await store.addMove(act, id, wanted)
  act.note('practise move', 'practice_run', id, { after: wanted })
  return shownRun(await mustBeThere(act, id))
}

/** Called true, called one that no hand cures, or left; then the faults are told. */
export async function endPractice(act: Act, id: string, { called }: PracticeEnd): Promise<PracticeRun> {
  const run = await ownOpenRun(act, id)
  await store.endRun(act, id, called, scorePractice(run.seed, run.level, run.steps, called))
  act.note('end practice', 'practice_run', id, { after: { called } })
  return shownRun(await mustBeThere(act, id))
}

async function ownOpenRun(act: Act, id: string): Promise<store.KeptRun> {
  await store.holdRun(act, id)
  const run = await mustBeThere(act, id)
  if (run.personId !== act.by.id) throw notFound('This practice crank')
  if (run.endedAt !== null) throw new Problem('conflict-state', 'This practice crank is put down. Start another one.')
  return run
}

async function mustBeThere(act: Act, id: string): Promise<store.KeptRun> {
  const run = await store.readRun(act.tx, id)
  if (run === null) throw notFound('This practice crank')
  return run
}
