import type { DialEntry } from '#core/bench/budget.ts'
import { atTwo, type EndWorth, type Expand, endWorth } from '#core/bench/end-worth.ts'
import type { PlacedLimit } from '#core/bench/limit-words.ts'
import { type EngineSheet, type LimitsAtDial, limitsAtDial } from '#core/bench/limits-at-dial.ts'
import type { Reading, RunoutSetUp } from '#core/bench/reading.ts'
import { CLOSING_MM, endQuality, type QualityFlag } from '#core/bench/reading-quality.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import type { EndLimits } from '#core/gates/facts.ts'
import { fitRoundATurn, type MarkReading } from '#core/readings-round-a-turn.ts'
import { type GuardRule, isWithin, type RunoutVerdict, runoutVerdict, SIDES, type Side } from '#core/runout-verdict.ts'
import { surfaceSaid } from '#core/surface-words.ts'
import { type EndAnswer, type EndRead, type TruingHeld, type TruingOnSupports, truing } from '#core/truing.ts'
import { endOf } from '#core/truing-faults.ts'

export interface RunoutSet {
  values: readonly Reading[]
  setUp: RunoutSetUp
  /** One division of the dial, mm. */
  dialStepMm: number
  /** What the register says of that dial beyond its division. */
  register?: Omit<DialEntry, 'stepMm'> | undefined
  sheet: EngineSheet
  /** House limit where the sheet gives none, mm. */
  shopLimitMm: number
  /** The whole crank was read, and it has several throws. */
  several?: boolean | undefined
  /** By which rule an end is within; full-guard unless said. */
  rule?: GuardRule | undefined
  /** Full swings of earlier sets in this very set-up with nothing done between, mm. */
  before?: Partial<Record<Side, readonly number[]>> | undefined
  /** How the parts of a budget are put together; k = 2 unless said. */
  expand?: Expand | undefined
}

/** The house limit at the place of the sheet, and the maker's there, where he gives one; mm. */
export interface GivenLimits extends PlacedLimit {
  makerMm?: number
}

const METHOD = { name: 'runout set: truing sum, 12 again, doubt budget of each end, limit carried to the dial', version: '2' } as const

/** What a set of runout readings comes to. Lengths mm; what cannot be said is absent. */
export interface RunoutFigures {
  sum?: TruingOnSupports | TruingHeld
  /** Why the sum could not be done, where the ends that it needs were read. */
  refused?: string
  left?: EndAnswer
  right?: EndAnswer
  closes: { leftMm?: number; rightMm?: number; agree: boolean }
  giveOrTake: { leftMm: number; rightMm: number }
  /** The budget behind each give-or-take, and the rule of the verdicts; absent in sets stored by version 1, which took a table. */
  worth?: { left: Omit<EndWorth, 'giveOrTakeMm'>; right: Omit<EndWorth, 'giveOrTakeMm'>; rule: GuardRule }
  limits: {
    leftMm?: number
    rightMm?: number
    makerLeftMm?: number
    makerRightMm?: number
    atStatedPlace: boolean
    /** The limits of each end as the sheet gave them, at its own place; absent in sets stored before they were kept. */
    given?: Partial<Record<Side, GivenLimits>>
  }
  verdicts: { left?: RunoutVerdict; right?: RunoutVerdict }
  /** What is not well about the reading; empty for a clean one. */
  quality: QualityFlag[]
  method: typeof METHOD
}

const SEVERAL = 'With several throws the two ends do not tell which joint is out. Read the middle, and each throw on its own shafts.'
const NO_STROKE = 'Our sheet for this engine has no stroke, and the sum needs it.'

/**
 * Everything that follows from one set of runout readings: what each end swings, whether 12 read again repeats, what the
 * swing is worth, the limits of the sheet at the place of the dial, and where both ends are in, what is wrong with the
 * crank and what to do. 12 read again is one more reading of that mark and counts in the fit.
 *
 * Places: left, right (at a mark), left-again, right-again (12 once more), left-swing, right-swing (a full swing and where
 * it reads highest). Lengths mm. With one main held in a lathe only the other end is read.
 * The sum is of one pin and its two webs: of a whole crank with several throws only the swings of its ends are said. Refuses (RangeError) what the
 * truing sum refuses. Sources: as truing, endWorth, runoutVerdict and limitsAtDial; the closing: common practice, no source.
 *
 * @example runoutFigures({ values: [0, 90, 180, 270].map((atDeg, mark) => ({ place: 'left', atDeg, mm: [0, 0.06, 0, -0.06][mark] })), setUp: { held: 'v-blocks-bare', supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52, cold: true }, dialStepMm: 0.01, sheet: {}, shopLimitMm: 0.02 }).left.tirMm.toFixed(3) // '0.120'
 */
export function runoutFigures(set: RunoutSet): RunoutFigures {
  const { setUp, dialStepMm, sheet, shopLimitMm, rule = 'full-guard' } = set
  const worth = { left: worthOf(set, 'left'), right: worthOf(set, 'right') }
  const atDial = {
    left: limitsAtDial('left', setUp, sheet, shopLimitMm),
    right: limitsAtDial('right', setUp, sheet, shopLimitMm),
  }
  const limits = { left: carriedLimits(atDial.left), right: carriedLimits(atDial.right) }
  const carried = { left: limits.left?.houseMm, right: limits.right?.houseMm }
  const ends = endsOf(set, Math.max(worth.left.giveOrTakeMm, worth.right.giveOrTakeMm), carried)
  const verdicts: RunoutFigures['verdicts'] = {}
  for (const side of SIDES) {
    const limitMm = carried[side]
    const tirMm = ends[side]?.tirMm
    if (limitMm !== undefined && tirMm !== undefined)
      verdicts[side] = runoutVerdict({ tirMm, limitMm, giveOrTakeMm: worth[side].giveOrTakeMm, rule })
  }
  const closes = closingOf(set.values, dialStepMm)
  return {
    ...ends,
    closes,
    giveOrTake: { leftMm: worth.left.giveOrTakeMm, rightMm: worth.right.giveOrTakeMm },
    worth: { left: budgetOf(worth.left), right: budgetOf(worth.right), rule },
    limits: {
      ...(carried.left === undefined ? {} : { leftMm: carried.left }),
      ...(carried.right === undefined ? {} : { rightMm: carried.right }),
      ...(limits.left?.makerMm == null ? {} : { makerLeftMm: limits.left.makerMm }),
      ...(limits.right?.makerMm == null ? {} : { makerRightMm: limits.right.makerMm }),
      atStatedPlace: carried.left !== undefined && carried.right !== undefined,
      ...givenLimits(atDial),
    },
    verdicts,
    quality: [
      ...SIDES.flatMap((side) => qualityOf(set, side, side === 'left' ? closes.leftMm : closes.rightMm)),
      ...(setUp.cold || set.values.length === 0 ? [] : [WARM]),
    ],
    method: METHOD,
  }
}

/** Heat is flagged and not budgeted: nobody knows how far a warm crank has bent. */
const WARM: QualityFlag = {
  code: 'warm',
  says: 'The crank was still warm, and no give-or-take covers that.',
  do: 'Let it come to the temperature of the room, and read it again.',
}

/** What one end is worth in this set-up, by the sets that were read in it. */
function worthOf({ values, setUp, dialStepMm, register, before, expand = atTwo }: RunoutSet, side: Side): EndWorth {
  const swing = swingOf(endRead(values, side))
  const swingsMm = swing === undefined ? [] : [...(before?.[side] ?? []), swing.tirMm]
  return endWorth({ side, setUp, dial: { ...register, stepMm: dialStepMm }, swingsMm }, expand)
}

function budgetOf({ giveOrTakeMm: _expanded, ...budget }: EndWorth): Omit<EndWorth, 'giveOrTakeMm'> {
  return budget
}

/** An end that was read as a whole swing is judged by where its dial stood and nothing else. */
function qualityOf({ values, setUp, dialStepMm }: RunoutSet, side: Side, closesByMm: number | undefined): QualityFlag[] {
  const read = endRead(values, side)
  if (read === undefined) return []
  const turn = read.readings === undefined ? undefined : fitRoundATurn(read.readings)
  const words = side === 'left' ? setUp.surfaceLeft : setUp.surfaceRight
  return endQuality({
    side,
    readings: values.filter(({ place }) => place === side).map(({ atDeg = 0, mm }) => ({ clockDeg: atDeg, mm })),
    closesByMm,
    turn: turn?.ok ? turn.value : undefined,
    dialMm: side === 'left' ? setUp.dialLeftMm : setUp.dialRightMm,
    surface: surfaceSaid(words ?? 'plain'),
    dialStepMm,
    skipped: ((side === 'left' ? setUp.skippedLeftDeg : setUp.skippedRightDeg) ?? []).length,
  })
}

function carriedLimits(limits: LimitsAtDial): EndLimits | undefined {
  return limits.kind === 'carried' ? limits.limits : undefined
}

function givenLimits(atDial: Record<Side, LimitsAtDial>): Pick<RunoutFigures['limits'], 'given'> {
  const given: Partial<Record<Side, GivenLimits>> = {}
  for (const side of SIDES) {
    const limits = atDial[side]
    if (limits.kind !== 'carried') continue
    const { houseMm: limitMm, makerMm, dialMm } = limits.given
    given[side] = { limitMm, dialMm, ...(makerMm === null ? {} : { makerMm }) }
  }
  return Object.keys(given).length === 0 ? {} : { given }
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
  if (set.several) return { ...(isComplete ? { refused: SEVERAL } : {}), ...swings(read) }
  if (!isComplete || sheet.strokeMm === undefined) return { ...(isComplete ? { refused: NO_STROKE } : {}), ...swings(read) }
  const { left, right } = carried
  const { cold: _cold, held: _held, surfaceLeft: _left, surfaceRight: _right, ...places } = setUp
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
    const swing = swingOf(read[side])
    if (swing !== undefined) ends[side] = swing
  }
  return ends
}

function swingOf(read: EndRead | undefined): EndAnswer | undefined {
  const { readings, tirMm, highAtDeg } = read ?? {}
  if (tirMm !== undefined && highAtDeg !== undefined) return { tirMm, highAtDeg }
  const turn = readings && fitRoundATurn(readings)
  return turn?.ok ? { ...endOf(turn.value), residualMm: turn.value.residualMm } : undefined
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
