/** Cranks with several throws in the demo shop: each half true on its own shafts before it is joined, and then the whole. */
import type { MeasurementNew, RunoutSetup } from '#contract/measurements.ts'
import { runoutFigures } from '#core/bench/runout-set.ts'
import { centresOf, type Joint, throwsOf } from '#core/crank-build.ts'
import type { Side } from '#core/runout-verdict.ts'
import type { Faults } from '#core/truing-faults.ts'
import { lookAtOilHole, tickTrapped } from '#server/features/pressings/commands.ts'
import { logMove } from '#server/features/truing/commands.ts'
import type { Caller } from '#server/plugins/act.ts'
import { allot, endOfWork, momentsIn } from './diary.ts'
import { faultsThatSwing, finished, isTrue, onStep, scaled, shareOfLimit, turnThat } from './faults.ts'
import { micrometerFor, stepOf } from './instruments.ts'
import { type Life, putOn, putSet, putStep, type Shop } from './life.ts'
import type { ModelSheet } from './model-sheets.ts'
import { clearanceOf, widthsOf } from './parts.ts'
import { HANDS, type Hand } from './people.ts'
import { skillOf, truingShareOf } from './skill.ts'
import { trueIt } from './truing-hand.ts'
import { anglesOf, buildOf, middleOf, partsAt, peakAt, putPress, type TwinParting } from './twins.ts'

const SIDES: readonly Side[] = ['left', 'right']
/** Median of the worse full swing of a half just pressed, and of the whole just joined, mm. Invented. */
const FRESH_HALF_MM = 0.09
const FRESH_WHOLE_MM = 0.08
const HALF_LIMIT_MM = 0.02

export interface TwinBuilding {
  hand: Hand
  from: number
  hours: number
  n: number
  borderline: boolean
}

const SHARES = { joining: 0.15, whole: 0.15 } as const

/** Each half pressed and trued, then joined, then the whole. Answers when it was called true, and what is left wrong with it. */
export function putTwinBuilding(shop: Shop, life: Life, building: TwinBuilding): { at: number; faults: Faults } {
  const { hand, hours } = building
  const throws = throwsOf(buildOf(life))
  const each = (hours * (1 - SHARES.joining - SHARES.whole)) / throws.length
  let at = building.from
  for (const joint of throws) at = putHalf(shop, life, joint, { ...building, from: at, hours: each })
  at = putJoining(shop, life, { hand, from: at, hours: hours * SHARES.joining })
  return putWhole(shop, life, { ...building, from: at, hours: hours * SHARES.whole })
}

/** The kit measured, one throw pressed together, and trued on its own two shafts. Answers when that was done. */
export function putHalf(shop: Shop, life: Life, joint: Joint, { hand, from, hours, n }: Omit<TwinBuilding, 'borderline'>): number {
  const { sheet } = life
  const chance = life.chance.of(`half ${joint}`)
  const by = HANDS[hand]
  const atTruing = hours * truingShareOf(hand, n)
  const pressing = allot(shop.diaries[hand], { from, hours: hours - atTruing, jobId: life.id, work: 'pressing' })
  const [ticked, pin, stack, left, right] = momentsIn(pressing, 5, chance)
  const parts = partsAt(life, joint)
  if (joint === 'throw-1') {
    const listed = buildOf(life)!.trapped.map(({ what }) => what)
    const id = shop.newId(ticked!)
    putOn(shop, life, ticked!, by, (act) => tickTrapped(act, life.id, { id, ticked: listed }))
  }
  putSet(shop, life, pin!, by, { kind: 'pin', phase: 'kit', joint, values: parts.kitPin, with: micrometerFor(sheet.figures.pinDiameterMm) })
  putSet(shop, life, stack!, by, {
    kind: 'stack',
    phase: 'kit',
    joint,
    values: parts.stack,
    with: micrometerFor(sheet.figures.engagementMm),
  })
  for (const [side, at] of [['left', left!] as const, ['right', right!] as const])
    putPress(shop, life, at, by, () => ({ direction: 'together', side, joint, peakTonnes: parts.together[side], lubricant: 'oil' }))
  const half = halfOf(sheet)
  const usual = skillOf(hand, n, chance)
  const skill = { ...usual, moves: Math.max(1, Math.round(usual.moves / 2)) }
  const { steps } = trueIt(faultsThatSwing(chance.lognormal(FRESH_HALF_MM, 0.4), half, chance, true), half, skill, chance.of('truing'))
  const truing = allot(shop.diaries[hand], { from: endOfWork(pressing), hours: atTruing, jobId: life.id, work: 'truing' })
  const moments = momentsIn(truing, 2 * steps.length, chance)
  for (const [index, { values, dial, move }] of steps.entries()) {
    const beforeId = putSet(shop, life, moments[2 * index]!, by, {
      kind: 'runout',
      phase: 'building',
      joint,
      setup: half.setup,
      values,
      with: dial,
    })
    if (move === undefined) continue
    const at = moments[2 * index + 1]!
    const id = shop.newId(at)
    const asAdvised = move.asAdvised && isAdvised(values, half, dial === 'Dial 3' ? 0.01 : 0.001, move)
    putOn(shop, life, at, by, (act) => logMove(act, life.id, { id, beforeId, joint, ...move, asAdvised }))
  }
  return endOfWork(truing)
}

/** Without a limit of the sheet, which a half has none of, the sum may say something else than the hand went by. */
function isAdvised(
  values: MeasurementNew['values'],
  half: ModelSheet,
  dialStepMm: number,
  move: { action: string; half?: Side | undefined; atDeg?: number | undefined },
): boolean {
  const { strokeMm } = half.figures
  const { sum } = runoutFigures({ values, setUp: half.setup, dialStepMm, sheet: { strokeMm }, shopLimitMm: HALF_LIMIT_MM })
  return (sum?.moves ?? []).some((one) => one.action === move.action && one.half === move.half && one.atDeg === move.atDeg)
}

/** One throw on its own two shafts: held close beside its webs, the dials on what is left of them. */
function halfOf(sheet: ModelSheet): ModelSheet {
  const { widthMinMm, widthMaxMm } = sheet.figures
  const supportMm = onStep((widthMinMm + widthMaxMm) / 4 + 8, 1)
  const dialMm = 16
  const setup: RunoutSetup = {
    held: 'v-blocks-bare',
    supportLeftMm: supportMm,
    supportRightMm: supportMm,
    dialLeftMm: dialMm,
    dialRightMm: dialMm,
    surfaceLeft: 'plain',
    surfaceRight: 'plain',
    cold: true,
  }
  const figures = {
    ...sheet.figures,
    supportLeftMm: supportMm,
    supportRightMm: supportMm,
    dialLeftMm: dialMm,
    dialRightMm: dialMm,
    limitHouseLeftMm: HALF_LIMIT_MM,
    limitHouseRightMm: HALF_LIMIT_MM,
  }
  return { ...sheet, figures, setup }
}

/** The middle pressed, where it is a pressed one, the oil hole looked at, both throws read, and the step. */
function putJoining(shop: Shop, life: Life, { hand, from, hours }: TwinParting): number {
  const by = HANDS[hand]
  const build = buildOf(life)
  const work = allot(shop.diaries[hand], { from, hours, jobId: life.id, work: 'pressing' })
  const moments = momentsIn(work, 2 * centresOf(build).length + 1 + 2 * throwsOf(build).length, life.chance.of('joining'))
  const next = () => moments.shift()!
  for (const joint of centresOf(build))
    for (const side of SIDES)
      putPress(shop, life, next(), by, () => ({
        direction: 'together',
        side,
        joint,
        peakTonnes: peakAt(life, joint, side, 'together'),
        lubricant: 'oil',
      }))
  putOn(shop, life, next(), by, (act) => lookAtOilHole(act, life.id, { state: 'none' }))
  putThrowsRead(shop, life, by, next, 'building')
  putStep(shop, life, endOfWork(work) + 1000, by, 'together')
  return endOfWork(work)
}

function putThrowsRead(shop: Shop, life: Life, by: Caller, next: () => number, phase: 'building' | 'built'): void {
  const { widthMinMm, widthMaxMm } = life.sheet.figures
  for (const joint of throwsOf(buildOf(life))) {
    const chance = life.chance.of(`width ${joint}`)
    const widthMm = (widthMinMm + widthMaxMm) / 2 + 0.01 * Math.max(-2, Math.min(2, chance.normal()))
    const micrometer = micrometerFor(widthMm)
    const straight: Faults = { swingMm: 0, openRad: 0, throwMm: 0, cockedRad: 0 }
    const own = chance.of(phase)
    const values = widthsOf(widthMm, straight, life.sheet, stepOf(micrometer), own)
    putSet(shop, life, next(), by, { kind: 'width', phase, joint, values, with: micrometer })
    putSet(shop, life, next(), by, {
      kind: 'clearance',
      phase,
      joint,
      values: clearanceOf(widthMm - partsAt(life, joint).stackMm, own),
      with: 'Feelers',
    })
  }
}

/** Both ends read and put right at one joint, the angle, the middle, both throws again, and the step. */
function putWhole(shop: Shop, life: Life, { hand, from, hours, borderline }: TwinBuilding): { at: number; faults: Faults } {
  const { sheet } = life
  const chance = life.chance.of('whole')
  const by = HANDS[hand]
  const throws = throwsOf(buildOf(life))
  const work = allot(shop.diaries[hand], { from, hours, jobId: life.id, work: 'truing' })
  const moments = momentsIn(work, 5 + 3 * throws.length, chance)
  const next = () => moments.shift()!
  const fresh = faultsThatSwing(chance.lognormal(FRESH_WHOLE_MM, 0.3), sheet, chance, true)
  const inside = finished(scaled(fresh, 0.9 / shareOfLimit(fresh, sheet)), sheet, chance)
  const faults = borderline ? scaled(inside, 1 / shareOfLimit(inside, sheet)) : inside
  const before = turnThat(() => true, fresh, sheet, 'Dial 3', chance)
  const beforeId = putSet(shop, life, next(), by, { kind: 'runout', phase: 'building', values: before, with: 'Dial 3' })
  const movedAt = next()
  const id = shop.newId(movedAt)
  const joint = centresOf(buildOf(life))[0] ?? throws.at(-1)!
  const blow = { action: 'strike', half: 'right', atDeg: fresh.swingMm > 0 ? 90 : 270, force: 'light', asAdvised: false } as const
  putOn(shop, life, movedAt, by, (act) => logMove(act, life.id, { id, beforeId, joint, ...blow }))
  const values = turnThat(isTrue, faults, sheet, 'Dial 4', chance)
  putSet(shop, life, next(), by, { kind: 'runout', phase: 'built', values, with: 'Dial 4' })
  putSet(shop, life, next(), by, anglesOf(life, 'built', 0.15, chance))
  putSet(shop, life, next(), by, middleOf(life, 'built', 0.018, chance))
  putThrowsRead(shop, life, by, next, 'built')
  for (const one of throws) {
    const mm = onStep(chance.between(0.004, 0.016), 0.01)
    putSet(shop, life, next(), by, { kind: 'play', phase: 'built', joint: one, values: [{ place: 'up-down', mm }], with: 'Dial 3' })
  }
  const at = endOfWork(work) + 1000
  putStep(shop, life, at, by, 'trued')
  return { at, faults }
}
