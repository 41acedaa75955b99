/** Webs, pins and rod kits of the demo shop: sizes that agree with the sheet, with each other, and with what the press gauge shows. */
import type { MeasurementNew } from '#contract/measurements.ts'
import { fit as fitSum, PRESS_FRICTION } from '#core/fit.ts'
import type { Side } from '#core/runout-verdict.ts'
import type { Faults } from '#core/truing-faults.ts'
import type { Chance } from './chance.ts'
import { onStep } from './faults.ts'
import type { ModelSheet } from './model-sheets.ts'

type Values = MeasurementNew['values']
type BySide<Value> = Readonly<Record<Side, Value>>

/** A tonne on the gauge of a press is the weight of a tonne: standard gravity, ISO 80000-4. */
const KN_PER_TONNE = 9.80665
/** Where one web is pressed more than once, its gauge shows about the same each time. */
const USUAL_FRICTION = { low: 0.15, high: 0.17 } as const
/** Scatter of a fit about the middle of its window, as a share of the pin Ø. Invented. */
const FIT_SCATTER = 0.0002
/** The right web of this model runs loose: the story of its comebacks. */
const LOOSE_RIGHT = { code: 'R449-4X', byMm: 0.012 } as const

export interface Parts {
  oldPin: Values
  kitPin: Values
  bores: Values
  stack: Values
  /** Peak of the gauge, t. */
  apart: BySide<number>
  together: BySide<number>
  /** Webs, rod and washers one on another. */
  stackMm: number
  fitMm: BySide<number>
  /** Where it went apart once more. */
  again?: Again
}

/** The same kit pressed in once more: measured anew, each web a little looser. */
export interface Again extends Pick<Parts, 'kitPin' | 'bores' | 'together' | 'fitMm' | 'apart'> {}

export interface PartsWanted {
  pressedAgain?: boolean | undefined
  /** Fit of the new pin where a story needs one of its own. */
  fitMm?: Partial<BySide<number>> | undefined
  oldFitMm?: Partial<BySide<number>> | undefined
  /** Peak going apart where the gauge told a story of its own. */
  apart?: Partial<BySide<number>> | undefined
}

export function partsOf(sheet: ModelSheet, wanted: PartsWanted, chance: Chance): Parts {
  const { pinDiameterMm, shopFloorMm } = sheet.figures
  const newFit = (side: Side) => wanted.fitMm?.[side] ?? clampedFit(sheet, side, chance)
  const fitMm = { left: newFit('left'), right: newFit('right') }
  const oldFit = (side: Side) =>
    wanted.oldFitMm?.[side] ?? onStep(Math.max(0.9 * shopFloorMm, fitMm[side] - chance.between(-0.003, 0.006)), 0.001)
  const oldFitMm = { left: oldFit('left'), right: oldFit('right') }
  const kitLeastMm = onStep(pinDiameterMm + 0.002 * chance.normal(), 0.001)
  const boreMostMm = { left: kitLeastMm - fitMm.left, right: kitLeastMm - fitMm.right }
  const oldLeastMm = { left: boreMostMm.left + oldFitMm.left, right: boreMostMm.right + oldFitMm.right }
  const kitPin = pinOf({ left: kitLeastMm, right: kitLeastMm }, chance)
  const oldPin = pinOf(oldLeastMm, chance)
  const bores = boresOf(boreMostMm, chance)
  const friction = wanted.pressedAgain ? USUAL_FRICTION : PRESS_FRICTION
  const gauge = (pin: Values, side: Side) => peakOf(sheet, { pin, bores, friction }, side, chance)
  const { stack, stackMm } = stackOf(sheet, chance)
  return {
    oldPin,
    kitPin,
    bores,
    stack,
    stackMm,
    fitMm,
    apart: { left: wanted.apart?.left ?? gauge(oldPin, 'left'), right: wanted.apart?.right ?? gauge(oldPin, 'right') },
    together: { left: gauge(kitPin, 'left'), right: gauge(kitPin, 'right') },
    ...(wanted.pressedAgain ? { again: againOf(sheet, { kitPin, bores, fitMm }, chance) } : {}),
  }
}

/** What a pressing takes off a pin and out of a bore. */
const WORN_MM = 0.001

function againOf(sheet: ModelSheet, { kitPin, bores, fitMm }: Pick<Parts, 'kitPin' | 'bores' | 'fitMm'>, chance: Chance): Again {
  const by = (values: Values, mm: number) => values.map((value) => ({ ...value, mm: onStep(value.mm + mm, 0.001) }))
  const worn = { kitPin: by(kitPin, -WORN_MM), bores: by(bores, WORN_MM) }
  const both = (pin: Values, inBores: Values) => {
    const of = (side: Side) => peakOf(sheet, { pin, bores: inBores, friction: USUAL_FRICTION }, side, chance)
    return { left: of('left'), right: of('right') }
  }
  const looser = (side: Side) => onStep(fitMm[side] - 2 * WORN_MM, 0.001)
  return {
    ...worn,
    fitMm: { left: looser('left'), right: looser('right') },
    apart: both(kitPin, bores),
    together: both(worn.kitPin, worn.bores),
  }
}

/** Around the middle of the window, above the floor of the shop; only the loose model may fall under it, and never to scrap. */
function clampedFit({ code, figures }: ModelSheet, side: Side, chance: Chance): number {
  const { fitMinMm, fitMaxMm, pinDiameterMm, shopFloorMm } = figures
  const drawn = (fitMinMm + fitMaxMm) / 2 + FIT_SCATTER * pinDiameterMm * chance.normal()
  const isLoose = code === LOOSE_RIGHT.code && side === 'right'
  const fitMm = isLoose ? drawn - LOOSE_RIGHT.byMm : drawn
  const floor = isLoose ? 0.0026 * pinDiameterMm : shopFloorMm + 0.001
  return onStep(Math.max(floor, fitMm), 0.001)
}

/** Both ends in two directions, the least as given. */
function pinOf(leastMm: BySide<number>, chance: Chance): Values {
  return (['left', 'right'] as const).flatMap((side) => [
    { place: `${side}-0`, mm: onStep(leastMm[side], 0.001) },
    { place: `${side}-90`, mm: onStep(leastMm[side] + 0.001 * chance.whole(0, 1), 0.001) },
  ])
}

/** Two depths in two directions, the greatest as given. */
function boresOf(mostMm: BySide<number>, chance: Chance): Values {
  return (['left', 'right'] as const).flatMap((side) =>
    ['outer-0', 'outer-90', 'inner-0', 'inner-90'].map((place, index) => ({
      place: `${side}-${place}`,
      mm: onStep(mostMm[side] - (index === 0 ? 0 : 0.001 * chance.whole(0, 2)), 0.001),
    })),
  )
}

/** What the gauge shows for a measured fit, at a friction between the usual two. */
function peakOf(
  sheet: ModelSheet,
  { pin, bores, friction: between }: { pin: Values; bores: Values; friction: { low: number; high: number } },
  side: Side,
  chance: Chance,
): number {
  const of = (values: Values) => values.filter(({ place }) => place.startsWith(side)).map(({ mm }) => mm)
  const friction = chance.between(between.low, between.high)
  const { pressForceKN } = fitSum({
    pinMm: of(pin),
    boreMm: of(bores),
    engagementMm: sheet.figures.engagementMm,
    friction: { low: friction, high: friction },
  })
  return onStep(Math.max(0.2, pressForceKN.low / KN_PER_TONNE), 0.1)
}

/** Webs as thick as their bores are long, two washers, and a rod that leaves the middle of the side clearance. */
function stackOf({ figures }: ModelSheet, chance: Chance): { stack: Values; stackMm: number } {
  const { widthMinMm, widthMaxMm, clearanceMinMm, clearanceMaxMm, engagementMm, pinDiameterMm } = figures
  const widthMm = (widthMinMm + widthMaxMm) / 2
  const clearanceMm = (clearanceMinMm + clearanceMaxMm) / 2 + (clearanceMaxMm - clearanceMinMm) * chance.between(-0.1, 0.1)
  const webLeft = onStep(engagementMm + 0.01 * chance.normal(), 0.01)
  const webRight = onStep(engagementMm + 0.01 * chance.normal(), 0.01)
  const washer = pinDiameterMm < 20 ? 0.8 : 1
  const rod = onStep(widthMm - clearanceMm - webLeft - webRight - 2 * washer, 0.01)
  const stack = [
    { place: 'web-left', mm: webLeft },
    { place: 'web-right', mm: webRight },
    { place: 'rod', mm: rod },
    { place: 'washer-1', mm: washer },
    { place: 'washer-2', mm: washer },
  ]
  return {
    stack,
    stackMm: onStep(
      stack.reduce((sum, { mm }) => sum + mm, 0),
      0.01,
    ),
  }
}

/** Width over the webs at the four places: open webs are wider at 180, a cocked pin at 90. */
export function widthsOf(widthMm: number, faults: Faults, { figures }: ModelSheet, stepMm: number, chance: Chance): Values {
  const rimMm = figures.strokeMm / 2 + 20
  const read = (place: string, mm: number) => ({ place, mm: onStep(mm + 0.002 * chance.normal(), stepMm) })
  const open = faults.openRad * rimMm
  const cocked = faults.cockedRad * rimMm
  return [read('0', widthMm - open), read('90', widthMm + cocked), read('180', widthMm + open), read('270', widthMm - cocked)]
}

/** Side clearance by feelers, the rod pushed over to each side. */
export function clearanceOf(clearanceMm: number, chance: Chance): Values {
  return [
    { place: 'left', mm: onStep(clearanceMm, 0.01) },
    { place: 'right', mm: onStep(clearanceMm + 0.01 * chance.whole(-1, 1), 0.01) },
  ]
}
