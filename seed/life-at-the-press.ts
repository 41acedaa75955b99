/** What the press does with a job: kit and stack measured, together to width, and for a few apart once more and together again. */
import type { Faults } from '#core/truing-faults.ts'
import { lookAtOilHole, pressWeb } from '#server/features/pressings/commands.ts'
import type { Caller } from '#server/plugins/act.ts'
import type { Chance } from './chance.ts'
import { openBefore } from './days.ts'
import { allot, endOfWork, momentsIn } from './diary.ts'
import { micrometerFor, stepOf } from './instruments.ts'
import { type Life, putOn, putSet, putStep, type Shop } from './life.ts'
import { putWidth } from './life-at-the-bench.ts'
import { putTold } from './life-at-the-counter.ts'
import { type Again, type Parts, widthsOf } from './parts.ts'
import { EWA, HANDS, type Hand } from './people.ts'

export interface Pressing {
  hand: Hand
  from: number
  hours: number
  faults: Faults
}

type Side = 'left' | 'right'
const SIDES: readonly Side[] = ['left', 'right']

/** Six of a hundred go together cocked and wide, and are pressed apart and together once more. */
const PRESSED_AGAIN = 0.06

export function isPressedAgain({ chance }: Life): boolean {
  return chance.of('pressed again').happens(PRESSED_AGAIN)
}

/** Measures the kit, presses it together to width, and calls it together; a low fit goes to the owner. */
export function putPressing(shop: Shop, life: Life, parts: Parts, pressing: Pressing): { at: number; widthMm: number } {
  const { hand, from, hours, faults } = pressing
  const { sheet, chance } = life
  const { again } = parts
  const by = HANDS[hand]
  const work = allot(shop.diaries[hand], { from, hours, jobId: life.id, work: 'pressing' })
  const moments = momentsIn(work, again === undefined ? 7 : 14, chance)
  const next = () => moments.shift()!
  const widthMm = pressedWidth(life, chance)
  putKitPin(shop, life, next(), by, parts)
  putSet(shop, life, next(), by, { kind: 'stack', phase: 'kit', values: parts.stack, with: micrometerFor(sheet.figures.engagementMm) })
  for (const side of SIDES) putTogether(shop, life, next(), by, { side, peakTonnes: parts.together[side] })
  if (again !== undefined) putAgain(shop, life, again, { next, by, faults, widthMm })
  const state = sheet.cycle === '4T' ? 'open' : 'none'
  putOn(shop, life, next(), by, (act) => lookAtOilHole(act, life.id, { state }))
  putWidth(shop, life, { at: [next(), next()], by, faults, widthMm, stackMm: parts.stackMm, phase: 'building' })
  const at = endOfWork(work) + 1000
  const { fitMm } = again ?? parts
  const low = SIDES.filter((side) => fitMm[side] < sheet.figures.shopFloorMm)
  if (low.length === 0) putStep(shop, life, at, by, 'together')
  else putOwnersWord(shop, life, at, low, by.name)
  return { at: endOfWork(work), widthMm }
}

function putKitPin(shop: Shop, life: Life, at: number, by: Caller, { kitPin }: Pick<Parts, 'kitPin'>): void {
  putSet(shop, life, at, by, { kind: 'pin', phase: 'kit', values: kitPin, with: micrometerFor(life.sheet.figures.pinDiameterMm) })
}

function putTogether(shop: Shop, life: Life, at: number, by: Caller, web: { side: Side; peakTonnes: number }): void {
  const id = shop.newId(at)
  putOn(shop, life, at, by, (act) => pressWeb(act, life.id, { ...web, id, direction: 'together', lubricant: 'oil' }))
}

/** It reads too wide; apart again, pin and bores measured anew, which have lost a little, and together. */
function putAgain(
  shop: Shop,
  life: Life,
  again: Again,
  pressing: { next: () => number; by: Caller; faults: Faults; widthMm: number },
): void {
  const { next, by, faults, widthMm } = pressing
  const micrometer = micrometerFor(widthMm)
  const wide = widthsOf(widthMm + 0.24, faults, life.sheet, stepOf(micrometer), life.chance.of('wide'))
  const note = 'cocked and too wide: apart once more'
  putSet(shop, life, next(), by, { kind: 'width', phase: 'building', values: wide, with: micrometer, note })
  for (const side of SIDES) {
    const at = next()
    const parted = { id: shop.newId(at), direction: 'apart', side, peakTonnes: again.apart[side], galling: 'none', crack: false } as const
    const mark = side === 'left' ? 'L' : 'R'
    putOn(shop, life, at, by, (act) => pressWeb(act, life.id, { ...parted, webMark: `${life.tag} ${mark}` }))
  }
  putKitPin(shop, life, next(), by, again)
  putSet(shop, life, next(), by, { kind: 'bore', phase: 'building', values: again.bores, with: 'Bore gauge' })
  for (const side of SIDES) putTogether(shop, life, next(), by, { side, peakTonnes: again.together[side] })
}

/** The owner calls it together with a fit under the floor of the shop, after the customer was asked. */
function putOwnersWord(shop: Shop, life: Life, at: number, low: readonly ('left' | 'right')[], measuredBy: string): void {
  const toldAt = openBefore(at, 0.15)
  putTold(
    shop,
    life,
    toldAt,
    `The ${low.join(' and ')} web holds its pin less tightly than we like, and above its scrap floor. It goes on with your word.`,
  )
  const passes = low.map((side) => ({
    code: `fit-${side}-below-shop-floor`,
    reason: `the ${side} web holds above its scrap floor, and the customer would rather ride it than wait for another half`,
    measuredBy,
    customerToldAt: new Date(toldAt).toISOString(),
  }))
  putStep(shop, life, at, EWA, 'together', passes)
}

/** A width near the middle of its window. */
function pressedWidth({ sheet }: Life, chance: Chance): number {
  const { widthMinMm, widthMaxMm } = sheet.figures
  const middle = (widthMinMm + widthMaxMm) / 2
  return Math.min(widthMaxMm - 0.02, Math.max(widthMinMm + 0.02, middle + 0.01 * chance.normal()))
}
