import type { Truing } from '#contract/truing.ts'
import type { MarksRun } from '#core/bench/marks-run.ts'
import { tirText } from '#web/features/truing/tir-text.ts'
import { moveWords } from '#web/features/truing/words.ts'

type Move = Truing['moves'][number]
type Ends = NonNullable<Move['came']>

export interface MoveSaid {
  /** `struck the right web at 3, light`. */
  did: string
  /** `Foretold left 0.02, right 0.03; came left 0.09, right 0.10.` */
  came?: string
  /** What the book says that it did. */
  told?: string
}

/** A move in words: what was done, what was foretold and came, and what the book says of it. */
export function moveSaid(move: Move, stepMm: number, marksRun?: MarksRun): MoveSaid {
  const did = `${moveWords({ ...move, marksRun })}${move.asAdvised ? '' : ', not as advised'}`
  const { foretold, came, told } = move
  if (came === undefined) return { did }
  const ends = (of: Ends) => `left ${tirText(of.leftTirMm, stepMm)}, right ${tirText(of.rightTirMm, stepMm)}`
  const before = foretold === undefined ? 'Nothing was foretold' : `Foretold ${ends(foretold)}`
  return { did, came: `${before}; came ${ends(came)}.`, ...(told === undefined ? {} : { told: told.says }) }
}
