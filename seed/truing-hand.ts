/** A hand at the truing bench, simulated: it reads, strikes or squeezes, reads again, and now and then goes too far. */
import type { MeasurementNew } from '#contract/measurements.ts'
import type { MoveNew } from '#contract/truing.ts'
import type { RunoutFigures } from '#core/bench/runout-set.ts'
import type { TruingOnSupports } from '#core/truing.ts'
import type { Faults } from '#core/truing-faults.ts'
import type { TruingMove } from '#core/truing-moves.ts'
import type { Chance } from './chance.ts'
import { type DialName, finished, gainsOf, houseLimits, isTrue, shareOfLimit, turnThat, workedOut, worstSwing } from './faults.ts'
import type { ModelSheet } from './model-sheets.ts'

/** A move without what ties it to the book. */
type MoveMade = Pick<MoveNew, 'action' | 'half' | 'atDeg' | 'force' | 'asAdvised'>

/** One turn read, and the move that it led to. */
export interface TruingStep {
  values: MeasurementNew['values']
  dial: DialName
  move?: MoveMade
}

export interface Skill {
  /** About how many moves this hand needs. */
  moves: number
  /** How often a move goes past and has to come back. */
  reversal: number
  /** How often it goes its own way. */
  ownWay: number
}

/** Rough readings are taken with the hundredth dial; near the limit the thousandth dial comes out. */
const FINE_BELOW_MM = 0.06
/** A joint that sits tight takes the first blow without moving. */
const NOTHING_MOVED = 0.1
const STEPS_MOST = 80

/** Trues a crank with these faults until both ends read inside the house limit with the fine dial. */
export function trueIt(start: Faults, sheet: ModelSheet, skill: Skill, chance: Chance): { steps: TruingStep[]; faults: Faults } {
  const keeps = keepsEachTime(start, sheet, skill.moves)
  const steps: TruingStep[] = []
  let faults = start
  let dial: DialName = worstSwing(start, sheet) > FINE_BELOW_MM ? 'Dial 3' : 'Dial 4'
  while (steps.length < STEPS_MOST) {
    const values = turnThat(() => true, faults, sheet, dial, chance)
    const figures = workedOut(values, sheet, dial)
    if (dial === 'Dial 3' && isFineEnough(figures)) {
      steps.push({ values, dial })
      dial = 'Dial 4'
      continue
    }
    if (isTrue(figures)) return { steps: [...steps, { values, dial }], faults }
    const move = moveFor(figures, faults, sheet, skill, chance)
    steps.push({ values, dial, move })
    faults = moved(faults, move, { keeps: steps.length > STEPS_MOST - 10 ? 0.1 : keeps, reversal: skill.reversal }, chance)
    if (shareOfLimit(faults, sheet) < 1) faults = finished(faults, sheet, chance)
  }
  throw new Error(`the demo’s hand never gets ${sheet.code} true`)
}

/** A hand so far into truing: the first steps of it, of which the last is read and not yet struck. */
export function trueHalfway(start: Faults, sheet: ModelSheet, skill: Skill, chance: Chance, count: number): TruingStep[] {
  const steps = trueIt(start, sheet, skill, chance).steps.slice(0, count)
  return steps.map(({ move, ...step }, index) => (index === steps.length - 1 || move === undefined ? step : { ...step, move }))
}

function sumOf(figures: RunoutFigures): TruingOnSupports {
  const { sum } = figures
  if (sum === undefined || !('bestReachable' in sum)) throw new Error('the demo trues on both supports')
  return sum
}

function isFineEnough(figures: RunoutFigures): boolean {
  const { left, right, moves } = sumOf(figures)
  const first = moves[0]?.action
  return Math.max(left.tirMm, right.tirMm) < FINE_BELOW_MM || first === 'leave' || first === 'part'
}

/** What a move leaves of its fault on average, so that about so many moves get both faults under the limit. */
function keepsEachTime(start: Faults, sheet: ModelSheet, moves: number): number {
  const gain = gainsOf(sheet)
  const limits = houseLimits(sheet)
  const aim = 0.8 * Math.min(limits.left, limits.right)
  const toGo =
    Math.log(Math.max(1, (gain.swing * Math.abs(start.swingMm)) / aim)) + Math.log(Math.max(1, (gain.open * Math.abs(start.openRad)) / aim))
  return Math.min(0.94, Math.max(0.1, Math.exp(-toGo / Math.max(1, moves))))
}

function moveFor(figures: RunoutFigures, faults: Faults, sheet: ModelSheet, skill: Skill, chance: Chance): MoveMade {
  const advice = sumOf(figures).moves[0]
  if (advice === undefined || advice.action === 'leave' || advice.action === 'part') return ownMove(faults, sheet)
  if (advice.action !== 'strike') return { action: advice.action, asAdvised: true }
  const { half = 'right', atDeg = 90 } = advice
  const force = forceOf(advice)
  if (!chance.happens(skill.ownWay)) return { action: 'strike', half, atDeg, force, asAdvised: true }
  // The other half struck at the opposite mark turns the webs the same way.
  return { action: 'strike', half: half === 'right' ? 'left' : 'right', atDeg: (atDeg + 180) % 360, force, asAdvised: false }
}

/** Where the sum says to leave it, and it is still over: the hand takes the greater of the two faults that it can feel. */
function ownMove(faults: Faults, sheet: ModelSheet): MoveMade {
  const gain = gainsOf(sheet)
  if (gain.swing * Math.abs(faults.swingMm) >= gain.open * Math.abs(faults.openRad))
    return { action: 'strike', half: 'right', atDeg: faults.swingMm > 0 ? 90 : 270, force: 'light', asAdvised: false }
  return { action: faults.openRad > 0 ? 'squeeze' : 'wedge', asAdvised: false }
}

function forceOf({ amountMm }: TruingMove): 'light' | 'firm' | 'hard' {
  if (amountMm > 0.25) return 'hard'
  return amountMm > 0.08 ? 'firm' : 'light'
}

/** The crank after a move: it holds, goes part of the way, or jumps past, and the other fault stirs a little with it. */
function moved(faults: Faults, { action }: MoveMade, by: { keeps: number; reversal: number }, chance: Chance): Faults {
  const size = Math.min(0.95, chance.lognormal(by.keeps, 0.25))
  const left = chance.happens(NOTHING_MOVED) ? 1 : chance.happens(by.reversal) ? -size : size
  if (action === 'strike') return { ...faults, swingMm: faults.swingMm * left, openRad: faults.openRad + 1e-5 * chance.normal() }
  return { ...faults, openRad: faults.openRad * left, swingMm: faults.swingMm + 0.001 * chance.normal() }
}
