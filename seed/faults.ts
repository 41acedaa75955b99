/** What is wrong with the cranks of the demo shop, and what two dials read of it: the forward model of the truing sum, drawn by chance. */
import type { MeasurementNew } from '#contract/measurements.ts'
import { limitsAtDial } from '#core/bench/limits-at-dial.ts'
import { type RunoutFigures, runoutFigures } from '#core/bench/runout-set.ts'
import { type Arrow, dialAt, endOf, type Faults, readingsFrom } from '#core/truing-faults.ts'
import type { Chance } from './chance.ts'
import type { ModelSheet } from './model-sheets.ts'

export type DialName = 'Dial 3' | 'Dial 4'
const DIAL_STEP_MM: Readonly<Record<DialName, number>> = { 'Dial 3': 0.01, 'Dial 4': 0.001 }
/** Scatter of one reading before it is rounded to a division: repeat of the dial and form of the seat, common practice. */
const SCATTER_MM: Readonly<Record<DialName, number>> = { 'Dial 3': 0.0012, 'Dial 4': 0.0004 }

/** How the energy of an error is shared out: swing, webs not parallel, unequal throws, cocked pin. Invented. */
export const FAULT_MIX = { swing: 0.65, open: 0.28, throw: 0.05, cocked: 0.02 } as const
/** How unlike in this cranks are: with 2, one of the faults often has nearly all. */
const MIX_CONCENTRATION = 2

/** Without a hand cure, so never more than this share of the limit where a crank has to come true. */
const HANDLESS_SHARE = 0.25

type Values = MeasurementNew['values']

export function onStep(mm: number, stepMm: number): number {
  // Fewer decimals than the step has would be lost otherwise: 3 × 0.001 is not 0.003 in binary.
  return Number((Math.round(mm / stepMm) * stepMm).toFixed(5))
}

/** The house limit of each end where this sheet's dials stand. */
export function houseLimits({ figures, setup }: ModelSheet): { left: number; right: number } {
  const of = (side: 'left' | 'right') => {
    const limits = limitsAtDial(side, setup, figures, figures[side === 'left' ? 'limitHouseLeftMm' : 'limitHouseRightMm'])
    if (limits.kind !== 'carried') throw new Error('a sheet of the demo has no limit at its own dials')
    return limits.limits.houseMm
  }
  return { left: of('left'), right: of('right') }
}

function swingsOf(faults: Faults, { setup }: ModelSheet): { left: number; right: number } {
  const ends = readingsFrom(faults, setup)
  return { left: endOf(ends.left).tirMm, right: endOf(ends.right).tirMm }
}

export function worstSwing(faults: Faults, sheet: ModelSheet): number {
  const { left, right } = swingsOf(faults, sheet)
  return Math.max(left, right)
}

/** The worse of both ends against its limit; 1 is at the limit. */
export function shareOfLimit(faults: Faults, sheet: ModelSheet): number {
  const swings = swingsOf(faults, sheet)
  const limits = houseLimits(sheet)
  return Math.max(swings.left / limits.left, swings.right / limits.right)
}

export function scaled(faults: Faults, by: number): Faults {
  const { swingMm, openRad, throwMm, cockedRad } = faults
  return { swingMm: swingMm * by, openRad: openRad * by, throwMm: throwMm * by, cockedRad: cockedRad * by }
}

/** Full swing that one unit of swing and of open costs at the worse dial. */
export function gainsOf({ setup }: ModelSheet): { swing: number; open: number } {
  const { supportLeftMm: a, supportRightMm: b, dialLeftMm: p, dialRightMm: q } = setup
  return { swing: (2 * Math.max(p, q)) / (a + b), open: (2 * Math.max(p * b, q * a)) / (a + b) }
}

/** Faults of the usual mix that swing the worse end by so much; such that it can come true, where that is asked. */
export function faultsThatSwing(worstMm: number, sheet: ModelSheet, chance: Chance, mayComeTrue: boolean): Faults {
  const gain = gainsOf(sheet)
  const shares = chance.shares(Object.values(FAULT_MIX), MIX_CONCENTRATION)
  const [swing, open, thrown, cocked] = shares.map((share) => Math.sqrt(share) * (chance.happens(0.5) ? 1 : -1))
  const drawn: Faults = {
    swingMm: swing! / gain.swing,
    openRad: open! / gain.open,
    throwMm: thrown! / gain.swing,
    cockedRad: cocked! / gain.open,
  }
  const faults = scaled(drawn, worstMm / worstSwing(drawn, sheet))
  if (!mayComeTrue) return faults
  const { left, right } = houseLimits(sheet)
  const most = HANDLESS_SHARE * Math.min(left, right)
  const atMost = (value: number, limit: number) => Math.sign(value) * Math.min(Math.abs(value), limit)
  return { ...faults, throwMm: atMost(faults.throwMm, most / gain.swing), cockedRad: atMost(faults.cockedRad, most / gain.open) }
}

/** Scatter of how far under its limit a crank is left, as a share of the limit. Invented. */
const FINISH_SCATTER = 0.3
const FINEST_DIVISION_MM = 0.001

/**
 * A crank that came inside its limit, as its last move leaves it: under the limit by half of a bell, and not nearer to nothing
 * than a division of the dial. What no hand can cure stays, and where that alone is more, so does the rest.
 */
export function finished(faults: Faults, sheet: ModelSheet, chance: Chance): Faults {
  const { left, right } = houseLimits(sheet)
  const share = Math.max(FINEST_DIVISION_MM / Math.min(left, right), 1 - FINISH_SCATTER * Math.abs(chance.normal()))
  const by = (factor: number) => ({ ...faults, swingMm: faults.swingMm * factor, openRad: faults.openRad * factor })
  if (shareOfLimit(by(0), sheet) >= share || (faults.swingMm === 0 && faults.openRad === 0)) return faults
  let most = 1
  while (shareOfLimit(by(most), sheet) < share) most *= 2
  // A full swing is convex in the factor, and under the share at 0: it crosses the share once.
  let least = 0
  for (let halving = 0; halving < 40; halving++) {
    const middle = (least + most) / 2
    if (shareOfLimit(by(middle), sheet) < share) least = middle
    else most = middle
  }
  return by(least)
}

const MARKS = [0, 90, 180, 270] as const

/** One turn under both dials, each set to nothing at the pin: L and R at each mark, then 12 again. */
export function turnOf(faults: Faults, sheet: ModelSheet, dial: DialName, chance: Chance): Values {
  const { left, right } = readingsFrom(faults, sheet.setup)
  const read = (arrow: Arrow, atDeg: number) =>
    onStep(dialAt(arrow, atDeg) - dialAt(arrow, 0) + SCATTER_MM[dial] * chance.normal(), DIAL_STEP_MM[dial])
  const marks = MARKS.flatMap((atDeg) => [
    { place: 'left', atDeg, mm: atDeg === 0 ? 0 : read(left, atDeg) },
    { place: 'right', atDeg, mm: atDeg === 0 ? 0 : read(right, atDeg) },
  ])
  return [...marks, { place: 'left-again', atDeg: 0, mm: read(left, 0) }, { place: 'right-again', atDeg: 0, mm: read(right, 0) }]
}

/** What the book will work out of a turn. */
export function workedOut(values: Values, sheet: ModelSheet, dial: DialName): RunoutFigures {
  return runoutFigures({
    values,
    setUp: sheet.setup,
    dialStepMm: DIAL_STEP_MM[dial],
    sheet: sheet.figures,
    shopLimitMm: sheet.figures.limitHouseLeftMm,
  })
}

export function isTrue({ left, right, limits }: RunoutFigures): boolean {
  const inside = (tirMm: number | undefined, limitMm: number | undefined) => (tirMm ?? 0) <= (limitMm ?? 0) + 1e-9
  return inside(left?.tirMm, limits.leftMm) && inside(right?.tirMm, limits.rightMm)
}

/** A turn that comes out as wanted and closes; a hand reads again what does not. */
export function turnThat(
  wanted: (figures: RunoutFigures) => boolean,
  faults: Faults,
  sheet: ModelSheet,
  dial: DialName,
  chance: Chance,
): Values {
  for (let tried = 0; tried < 2000; tried++) {
    const values = turnOf(faults, sheet, dial, chance)
    const figures = workedOut(values, sheet, dial)
    if (figures.closes.agree && wanted(figures)) return values
  }
  throw new Error(`no reading of ${sheet.code} comes out as the demo needs it`)
}
