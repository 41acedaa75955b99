import type { RunoutFigures } from '#contract/runout-figures.ts'
import type { TruingOut } from '#contract/sum-truing.ts'
import type { Truing } from '#contract/truing.ts'
import { heldTrue } from '#core/bench/runout-set.ts'
import { CAUTIONS } from '#core/cautions.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import { isWithin } from '#core/runout-verdict.ts'
import type { TruingTool } from '#core/truing-moves.ts'
import { type AdvisedMove, isOnSupports } from '#web/features/truing/faults.ts'
import { tirText } from '#web/features/truing/tir-text.ts'

export interface SaidMove {
  /** What comes before it: dials back, off the supports. */
  before?: string
  /** The one thing to do, large. */
  act: string
  /** What follows in the sum's own words. */
  rest?: string
}

/** The sentence of the sum, cut where the screen sets it: what goes before, the act, what follows. */
export function saidMove(say: string): SaidMove {
  const sentences = say.split(/(?<=\.) (?=[A-Z])/)
  const first = sentences[0] ?? say
  const opens = first.startsWith('Dials back')
  const [act = say, ...rest] = opens ? sentences.slice(1) : sentences
  return { ...(opens ? { before: first } : {}), act, ...(rest.length === 0 ? {} : { rest: rest.join(' ') }) }
}

/** How far it is, and where that can be seen: `0.12 to go, 0.31 seen sideways at the rim by mark 6.` */
export function amountWords(sum: TruingOut, move: AdvisedMove, stepMm: number): string | undefined {
  const seen = tirText(move.amountMm, stepMm)
  if (move.action === 'strike') {
    const aim = isOnSupports(sum) ? sum.bestReachable.swingMm : 0
    return `${tirText(Math.abs(sum.faults.swingMm - aim), stepMm)} mm to go, ${seen} seen sideways at the rim by mark 6.`
  }
  if (move.action === 'squeeze') return `The rims ${seen} mm nearer together at mark 6, against the gap at the pin.`
  return move.action === 'wedge' ? `The rims ${seen} mm further apart at mark 6, against the gap at the pin.` : undefined
}

/** The sentence of a blow names its hammer, and the caution beneath it does. */
const TOOL_WORDS: Readonly<Record<Exclude<TruingTool, 'soft-hammer'>, string>> = {
  'soft-jaws': 'Tool: a vice with soft jaws, or a screw clamp across the rims.',
  wedge: 'Tool: a wedge of hardwood or brass.',
  press: 'Tool: the press. No hand tool cures this.',
}

/** What it is done with, in one line, where the move itself does not say it. */
export function toolWords({ tool }: AdvisedMove): string | undefined {
  return tool === undefined || tool === 'soft-hammer' ? undefined : TOOL_WORDS[tool]
}

/** What both ends will read after a perfect move: `A perfect one leaves left 0.02, right 0.01.` */
export function aheadWords(ahead: Truing['ahead'], stepMm: number): string | undefined {
  return ahead && `A perfect one leaves left ${tirText(ahead.leftTirMm, stepMm)}, right ${tirText(ahead.rightTirMm, stepMm)}.`
}

/** What blows and wedges can still reach at the ends. */
export function reachWords(sum: TruingOut, giveOrTake: RunoutFigures['giveOrTake'], stepMm: number): string | undefined {
  if (!isOnSupports(sum)) return undefined
  const { leftTirMm, rightTirMm } = sum.bestReachable
  if (isWithin(leftTirMm, giveOrTake.leftMm) && isWithin(rightTirMm, giveOrTake.rightMm))
    return 'Best it can reach: better than these dials read.'
  return `Best it can reach: left ${tirText(leftTirMm, stepMm)}, right ${tirText(rightTirMm, stepMm)}.`
}

/** The usual caution where a move can hurt somebody. */
export function cautionFor(move: AdvisedMove, held: WayOfHolding): string | undefined {
  if (move.action === 'leave') return undefined
  if (move.action === 'part') return CAUTIONS.press
  return heldTrue(held) === null ? WITH_THE_HAMMER : `${CAUTIONS.lathe} ${WITH_THE_HAMMER}`
}

/** The move itself begins with the dials back and the crank off its supports; the rest of the caution stands beneath it. */
const WITH_THE_HAMMER = CAUTIONS.hammer.slice(CAUTIONS.hammer.indexOf('. ') + 2)

/** Where the hand goes, on the picture of the crank from its right-hand end. */
export function actOnPicture(move: AdvisedMove): { atDeg: number; words: string } | undefined {
  if (move.action === 'strike' && move.atDeg !== undefined) return { atDeg: move.atDeg, words: `${move.half ?? 'right'} web` }
  if (move.action === 'squeeze') return { atDeg: 180, words: 'squeeze here' }
  return move.action === 'wedge' ? { atDeg: 180, words: 'wedge here' } : undefined
}
