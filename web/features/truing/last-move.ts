import type { Truing } from '#contract/truing.ts'
import { isWithin } from '#core/runout-verdict.ts'
import { tirText } from '#web/features/truing/tir-text.ts'
import { moveWords } from '#web/features/truing/words.ts'

type Move = Truing['moves'][number]
type Ends = NonNullable<Move['came']>

export interface MoveTold {
  /** `Last move: struck the right web at 3, light.` */
  did: string
  /** `Foretold left 0.02, right 0.03; came 0.09, 0.10.` */
  came?: string
  turn: 'better' | 'nothing' | 'worse' | 'not-known'
  /** What to look at. */
  so?: string
}

function worst(ends: Ends): number {
  return Math.max(ends.leftTirMm, ends.rightTirMm)
}

/** What a move did, against what stood before it. `giveOrTakeMm` is what one full swing of these dials is worth. */
export function moveTold(move: Move, before: Partial<Ends> | undefined, giveOrTakeMm: number, stepMm: number): MoveTold {
  const did = `${moveWords(move)}${move.asAdvised ? '' : ', not as advised'}`
  const { foretold, came } = move
  if (came === undefined) return { did, turn: 'not-known' }
  const ends = (of: Ends) => `left ${tirText(of.leftTirMm, stepMm)}, right ${tirText(of.rightTirMm, stepMm)}`
  const said = `${foretold === undefined ? 'Nothing was foretold' : `Foretold ${ends(foretold)}`}; came ${ends(came)}.`
  if (before?.leftTirMm === undefined || before.rightTirMm === undefined) return { did, came: said, turn: 'not-known' }
  const was = { leftTirMm: before.leftTirMm, rightTirMm: before.rightTirMm }
  const change = worst(came) - worst(was)
  const still =
    isWithin(Math.abs(came.leftTirMm - was.leftTirMm), giveOrTakeMm) && isWithin(Math.abs(came.rightTirMm - was.rightTirMm), giveOrTakeMm)
  if (still) return { did, came: said, turn: 'nothing', so: 'It did not move as far as these dials can tell.' }
  if (change <= 0) return { did, came: said, turn: 'better' }
  const meantBetter = foretold !== undefined && worst(foretold) < worst(was)
  if (isWithin(change, giveOrTakeMm) || !meantBetter) return { did, came: said, turn: 'worse' }
  return {
    did,
    came: said,
    turn: 'worse',
    so: 'It went the other way, or jumped past. Check which way round the marks run: clockwise seen from the drive end, the same marks for both dials.',
  }
}

const SIZES = ['light', 'firm', 'hard'] as const

/** What this crank takes: the hardest blow that did nothing, the lightest that moved it. Learned from its own moves. */
export function breakAway(told: readonly { force?: Move['force']; action: Move['action']; turn: MoveTold['turn'] }[]): string | undefined {
  const blows = told.filter((one) => one.action === 'strike' && one.force !== undefined && one.turn !== 'not-known')
  const level = (one: { force?: Move['force'] }) => SIZES.indexOf(one.force ?? 'light')
  const did = blows.filter((one) => one.turn !== 'nothing').map(level)
  const didNot = blows.filter((one) => one.turn === 'nothing').map(level)
  const parts = [
    ...(didNot.length === 0 ? [] : [`${SIZES[Math.max(...didNot)]} did nothing`]),
    ...(did.length === 0 ? [] : [`${SIZES[Math.min(...did)]} moved it`]),
  ]
  return parts.length === 0 ? undefined : `On this crank: ${parts.join(', ')}.`
}
