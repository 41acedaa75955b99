import type { RunoutSetup } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import type { TruingOut } from '#contract/sum-truing.ts'
import { clockOfMark } from '#core/bench/marks-run.ts'
import { isWithin } from '#core/runout-verdict.ts'
import type { Faults } from '#core/truing-faults.ts'
import { hurtsOf, type TruingVerdict } from '#core/truing-moves.ts'
import { runOf } from '#web/features/truing/marks-said.ts'
import { markName } from '#web/features/truing/words.ts'

/** The answer of the truing sum for a crank on both supports. */
export type OnSupports = Extract<TruingOut, { bestReachable: unknown }>

export function isOnSupports(sum: TruingOut): sum is OnSupports {
  return 'bestReachable' in sum
}

/** A move as the book advises it. */
export type AdvisedMove = TruingOut['moves'][number]

export interface FaultLine {
  name: 'swing' | 'open' | 'throw' | 'cocked'
  says: string
  /** Its size in mm; absent where these dials cannot tell it from nothing. */
  mm?: number
}

const NOTHING = { leftTirMm: 0, rightTirMm: 0, swingMm: 0, openRad: 0 }

/**
 * The four things that can be wrong, in plain words, each with its size: swing and throw in mm between the two shafts, the
 * two tilts in mm over the rims, where a hand sees them. One that moves neither dial by more than the give-or-take is too
 * small to say. Lengths mm.
 */
export function faultLines(faults: Faults, setUp: RunoutSetup, rimRadiusMm: number, giveOrTakeMm: number): FaultLine[] {
  const towards = markName(clockOfMark(faults.swingMm >= 0 ? 90 : 270, runOf(setUp)))
  // What each costs at the worse dial. Throw and cocked cost what a swing and an opening of their size would.
  const byHand = hurtsOf(faults, NOTHING, setUp)
  const without = hurtsOf({ ...faults, swingMm: faults.throwMm, openRad: faults.cockedRad }, NOTHING, setUp)
  const line = (name: FaultLine['name'], says: string, mm: number, costMm: number): FaultLine =>
    isWithin(costMm, giveOrTakeMm) ? { name, says: TOO_SMALL[name] } : { name, says, mm: Math.abs(mm) }
  return [
    line('swing', `Swing, right half towards mark\u00a0${towards}`, faults.swingMm, byHand.swingMm),
    line(
      'open',
      `${faults.openRad >= 0 ? 'Open' : 'Pinched'} opposite the pin, at the rims`,
      faults.openRad * 2 * rimRadiusMm,
      byHand.openMm,
    ),
    line('throw', `Throw unequal, the ${faults.throwMm >= 0 ? 'left' : 'right'} one the longer`, faults.throwMm, without.swingMm),
    line('cocked', 'Pin cocked, over the rims', faults.cockedRad * 2 * rimRadiusMm, without.openMm),
  ]
}

const TOO_SMALL = { swing: 'Swing', open: 'Open or pinched', throw: 'Throw unequal', cocked: 'Pin cocked' } as const

const VERDICT_SHORT: Readonly<Record<TruingVerdict, string>> = {
  true: 'within what is allowed',
  swing: 'mostly swing',
  open: 'mostly open opposite the pin',
  pinched: 'mostly pinched opposite the pin',
  'swing-and-open': 'swing, and open opposite the pin',
  'swing-and-pinched': 'swing, and pinched opposite the pin',
  throw: 'throw unequal',
  cocked: 'pin cocked',
}

/** `left 0.17, right 0.20, mostly swing` */
export function lastTimeWords(figures: RunoutFigures | undefined, tir: (mm: number) => string): string | undefined {
  if (figures === undefined) return undefined
  const ends = [
    ...(figures.left === undefined ? [] : [`left ${tir(figures.left.tirMm)}`]),
    ...(figures.right === undefined ? [] : [`right ${tir(figures.right.tirMm)}`]),
  ]
  if (ends.length === 0) return undefined
  return [...ends, ...(figures.sum === undefined || !figures.closes.agree ? [] : [VERDICT_SHORT[figures.sum.verdict]])].join(', ')
}
