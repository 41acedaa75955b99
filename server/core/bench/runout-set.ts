import { type EngineSheet, type LimitsAtDial, limitsAtDial } from '#core/bench/limits-at-dial.ts'
import type { Reading, RunoutSetUp } from '#core/bench/reading.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import type { EndLimits } from '#core/gates/facts.ts'
import { fitRoundATurn, type MarkReading } from '#core/readings-round-a-turn.ts'
import { type DialSupport, giveOrTakeFor, isWithin, type RunoutVerdict, runoutVerdict, SIDES, type Side } from '#core/runout-verdict.ts'
import { type EndAnswer, type EndRead, type TruingHeld, type TruingOnSupports, truing } from '#core/truing.ts'
import { endOf } from '#core/truing-faults.ts'

export interface RunoutSet {
  values: readonly Reading[]
  setUp: RunoutSetUp
  /** One division of the dial, mm. */
  dialStepMm: number
  sheet: EngineSheet
  /** House limit where the sheet gives none, mm. */
  shopLimitMm: number
}

const METHOD = { name: 'runout set: truing sum, 12 again, table of give-or-take, limit carried to the dial', version: '1' } as const

/** What a set of runout readings comes to. Lengths mm; what cannot be said is absent. */
export interface RunoutFigures {
  sum?: TruingOnSupports | TruingHeld
  /** Why the sum could not be done, where the ends that it needs were read. */
  refused?: string
  left?: EndAnswer
  right?: EndAnswer
  closes: { leftMm?: number; rightMm?: number; agree: boolean }
  giveOrTake: { leftMm: number; rightMm: number }
  limits: { leftMm?: number; rightMm?: number; makerLeftMm?: number; makerRightMm?: number; atStatedPlace: boolean }
  verdicts: { left?: RunoutVerdict; right?: RunoutVerdict }
  method: typeof METHOD
}

/** 12 read again repeats within this, or within half a division of a coarser dial. Common practice, no source. */
export const CLOSING_MM = 0.005

const NO_STROKE = 'Our sheet for this engine has no stroke, and the sum needs it.'

/**
 * Everything that follows from one set of runout readings: what each end swings, whether 12 read again repeats, what the
 * swing is worth, the limits of the sheet at the place of the dial, and where both ends are in, what is wrong with the
 * crank and what to do. 12 read again is one more reading of that mark and counts in the fit.
 *
 * Places: left, right (at a mark), left-again, right-again (12 once more), left-swing, right-swing (a full swing and where
 * it reads highest). Lengths mm. With one main held in a lathe only the other end is read. Refuses (RangeError) what the
 * truing sum refuses. Sources: as truing, giveOrTakeFor, runoutVerdict and limitsAtDial; the closing: common practice, no source.
 *
 * @example runoutFigures({ values: [0, 90, 180, 270].map((atDeg, mark) => ({ place: 'left', atDeg, mm: [0, 0.06, 0, -0.06][mark] })), setUp: { held: 'v-blocks-bare', supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52, cold: true }, dialStepMm: 0.01, sheet: {}, shopLimitMm: 0.02 }).left.tirMm.toFixed(3) // '0.120'
 */
export function runoutFigures(set: RunoutSet): RunoutFigures {
  const { setUp, dialStepMm, sheet, shopLimitMm } = set
  const worth = giveOrTakeFor({ instrumentStepMm: dialStepMm, support: supportOf(setUp.held) })
  const limits = {
    left: carriedLimits(limitsAtDial('left', setUp, sheet, shopLimitMm)),
    right: carriedLimits(limitsAtDial('right', setUp, sheet, shopLimitMm)),
  }
  const carried = { left: limits.left?.houseMm, right: limits.right?.houseMm }
  const ends = endsOf(set, worth, carried)
  const verdicts: RunoutFigures['verdicts'] = {}
  for (const side of SIDES) {
    const limitMm = carried[side]
    const tirMm = ends[side]?.tirMm
    if (limitMm !== undefined && tirMm !== undefined) verdicts[side] = runoutVerdict({ tirMm, limitMm, giveOrTakeMm: worth })
  }
  return {
    ...ends,
    closes: closingOf(set.values, dialStepMm),
    giveOrTake: { leftMm: worth, rightMm: worth },
    limits: {
      ...(carried.left === undefined ? {} : { leftMm: carried.left }),
      ...(carried.right === undefined ? {} : { rightMm: carried.right }),
      ...(limits.left?.makerMm == null ? {} : { makerLeftMm: limits.left.makerMm }),
      ...(limits.right?.makerMm == null ? {} : { makerRightMm: limits.right.makerMm }),
      atStatedPlace: carried.left !== undefined && carried.right !== undefined,
    },
    verdicts,
    method: METHOD,
  }
}

function carriedLimits(limits: LimitsAtDial): EndLimits | undefined {
  return limits.kind === 'carried' ? limits.limits : undefined
}

/** Bearings and cases bring the error of their rings with them; seats and centres are ground. */
export function supportOf(held: WayOfHolding): DialSupport {
  return held.endsWith('-bare') || held === 'centres' ? 'bare-seats' : 'bearings'
}

/** Which main is held true, so that only the other end can be read. */
export function heldTrue(held: WayOfHolding): Side | null {
  if (held === 'lathe-left') return 'left'
  return held === 'lathe-right' ? 'right' : null
}

function endsOf(
  set: RunoutSet,
  readingDoubtMm: number,
  carried: Record<Side, number | undefined>,
): Pick<RunoutFigures, 'sum' | 'refused' | 'left' | 'right'> {
  const { values, setUp, sheet } = set
  const held = heldTrue(setUp.held)
  const read = { left: endRead(values, 'left'), right: endRead(values, 'right') }
  const isComplete = SIDES.every((side) => side === held || read[side] !== undefined)
  if (!isComplete || sheet.strokeMm === undefined) return { ...(isComplete ? { refused: NO_STROKE } : {}), ...swings(read) }
  const { left, right } = carried
  const { cold: _cold, held: _held, ...places } = setUp
  const answer = truing({
    ...places,
    strokeMm: sheet.strokeMm,
    ...read,
    held: held ?? 'both',
    limitTirMm: left === undefined || right === undefined ? undefined : { leftMm: left, rightMm: right },
    rimRadiusMm: sheet.rimRadiusMm,
    readingDoubtMm,
  })
  if (!answer.ok) return { refused: answer.detail, ...swings(read) }
  const sum = answer.value
  return { sum, ...(sum.left === undefined ? {} : { left: sum.left }), ...(sum.right === undefined ? {} : { right: sum.right }) }
}

function endRead(values: readonly Reading[], side: Side): EndRead | undefined {
  const swing = values.find((value) => value.place === `${side}-swing`)
  if (swing !== undefined) return { tirMm: swing.mm, highAtDeg: swing.atDeg ?? 0 }
  const readings = values
    .filter((value) => value.place === side || value.place === `${side}-again`)
    .map((value): MarkReading => ({ clockDeg: value.atDeg ?? 0, mm: value.mm }))
  return readings.length === 0 ? undefined : { readings }
}

/** What each end swings by itself, where the sum of both cannot be done. */
function swings(read: Record<Side, EndRead | undefined>): { left?: EndAnswer; right?: EndAnswer } {
  const ends: { left?: EndAnswer; right?: EndAnswer } = {}
  for (const side of SIDES) {
    const { readings, tirMm, highAtDeg } = read[side] ?? {}
    if (tirMm !== undefined && highAtDeg !== undefined) ends[side] = { tirMm, highAtDeg }
    if (readings === undefined) continue
    const turn = fitRoundATurn(readings)
    if (turn.ok) ends[side] = { ...endOf(turn.value), residualMm: turn.value.residualMm }
  }
  return ends
}

/** An end that was read as a whole swing has no 12 to repeat and speaks neither for nor against. */
function closingOf(values: readonly Reading[], dialStepMm: number): RunoutFigures['closes'] {
  const allowedMm = Math.max(CLOSING_MM, dialStepMm / 2)
  const closes: RunoutFigures['closes'] = { agree: values.length > 0 }
  for (const side of SIDES) {
    const first = values.find((value) => value.place === side && (value.atDeg ?? 0) === 0)
    const again = values.find((value) => value.place === `${side}-again`)
    const isReadByMarks = values.some((value) => value.place === side)
    if (first !== undefined && again !== undefined) {
      const byMm = again.mm - first.mm
      closes[side === 'left' ? 'leftMm' : 'rightMm'] = byMm
      closes.agree &&= isWithin(Math.abs(byMm), allowedMm)
    } else if (isReadByMarks) closes.agree = false
  }
  return closes
}
