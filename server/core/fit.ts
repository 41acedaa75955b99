import { BINARY_DUST_MM, DIAMETER_MM, FRICTION, LENGTH_MM, needWithin, PIN_HOLE_MM, POISSON, YOUNGS_GPA } from '#core/limits.ts'

/** Elastic figures of a metal; what is absent is taken as steel. */
export interface Metal {
  youngsGPa?: number | undefined
  poisson?: number | undefined
}

export interface FitInput {
  /** Diameters of the pin end that sits in this web. */
  pinMm: readonly number[]
  /** Diameters of this web's bore. */
  boreMm: readonly number[]
  /** Length of pin in the bore. */
  engagementMm: number
  /** Outer diameter of the ring of metal that carries the pin, not the rim; twice the bore unless said. */
  webOuterMm?: number | undefined
  /** Bore of a hollow pin; 0, a solid pin, unless said. */
  pinHoleMm?: number | undefined
  pin?: Metal | undefined
  web?: Metal | undefined
  /** Friction between pin and bore when pressing; 0.12 to 0.20 unless said. */
  friction?: { low: number; high: number } | undefined
  /** Interference under which the web is scrap; 0.0022 × bore unless said. */
  floorMm?: number | undefined
  /** Interference under which the shop's own rule asks for a better fit. */
  shopFloorMm?: number | undefined
}

export const FIT_VERDICTS = ['go', 'below-shop-floor', 'stop'] as const
export type FitVerdict = (typeof FIT_VERDICTS)[number]

const METHOD = { name: 'thick-walled cylinders', version: '1' } as const

export interface FitAnswer {
  /** Least pin less greatest bore, on the diameter; less than 0 when the pin is loose. */
  interferenceMm: number
  /** Between pin and bore; 0 when the pin is loose. */
  pressureMPa: number
  /** Hoop stress in the web at the bore. */
  boreHoopMPa: number
  pressForceKN: { low: number; high: number }
  /** What the joint holds against turning about the pin. */
  torqueNm: { low: number; high: number }
  verdict: FitVerdict
  method: typeof METHOD
}

export const STEEL: Readonly<Required<{ youngsGPa: number; poisson: number }>> = { youngsGPa: 205, poisson: 0.29 }
export const PRESS_FRICTION = { low: 0.12, high: 0.2 } as const
/** Common practice, no source: under this share of the bore a web is scrap. */
export const SCRAP_FLOOR_SHARE = 0.0022

const SUM = 'fit'

/**
 * What a press fit of pin in web holds, from their measured diameters.
 *
 * @example fit({ pinMm: [22.07, 22.071], boreMm: [22, 21.999], engagementMm: 18 }).pressureMPa.toFixed(0) // '245'
 *
 * Diameters 1–300 mm. Interference = least pin − greatest bore; nominal diameter = greatest bore. Refuses no readings, a
 * ring no bigger than the bore and a hole no smaller than it (RangeError).
 * Source: Lamé's thick-walled cylinders, as in Shigley, Mechanical Engineering Design, 8th ed., section 3-16; friction and
 * scrap floor common practice, no source. Roughness flattens at the first pressing: what is held is a little less.
 */
export function fit(input: FitInput): FitAnswer {
  const { pinLeastMm, nominalMm, outerMm, holeMm } = diametersOf(input)
  const friction = input.friction ?? PRESS_FRICTION
  const floorMm = input.floorMm ?? SCRAP_FLOOR_SHARE * nominalMm
  checkRest(input, friction, floorMm)

  const interferenceMm = pinLeastMm - nominalMm
  const ring = ((outerMm / nominalMm) ** 2 + 1) / ((outerMm / nominalMm - 1) * (outerMm / nominalMm + 1))
  const core = (1 + (holeMm / nominalMm) ** 2) / ((1 - holeMm / nominalMm) * (1 + holeMm / nominalMm))
  const give = (ring + poissonOf(input.web)) / youngsMPa(input.web) + (core - poissonOf(input.pin)) / youngsMPa(input.pin)
  const pressureMPa = Math.max(0, interferenceMm) / (nominalMm * give)
  const normalForceN = pressureMPa * Math.PI * nominalMm * input.engagementMm
  const forceN = { low: friction.low * normalForceN, high: friction.high * normalForceN }
  const armM = nominalMm / 2 / 1000
  return {
    interferenceMm,
    pressureMPa,
    boreHoopMPa: pressureMPa * ring,
    pressForceKN: { low: forceN.low / 1000, high: forceN.high / 1000 },
    torqueNm: { low: forceN.low * armM, high: forceN.high * armM },
    verdict: verdictOf(interferenceMm, floorMm, input.shopFloorMm),
    method: METHOD,
  }
}

function verdictOf(interferenceMm: number, floorMm: number, shopFloorMm: number | undefined): FitVerdict {
  if (interferenceMm < floorMm - BINARY_DUST_MM) return 'stop'
  if (shopFloorMm !== undefined && interferenceMm < shopFloorMm - BINARY_DUST_MM) return 'below-shop-floor'
  return 'go'
}

function diametersOf(input: FitInput) {
  if (input.pinMm.length === 0) throw new RangeError(`${SUM} needs at least one pin reading`)
  if (input.boreMm.length === 0) throw new RangeError(`${SUM} needs at least one bore reading`)
  let pinLeastMm = Number.POSITIVE_INFINITY
  for (const pin of input.pinMm) {
    needWithin(SUM, 'pinMm', pin, DIAMETER_MM)
    pinLeastMm = Math.min(pinLeastMm, pin)
  }
  let nominalMm = 0
  for (const bore of input.boreMm) {
    needWithin(SUM, 'boreMm', bore, DIAMETER_MM)
    nominalMm = Math.max(nominalMm, bore)
  }
  const outerMm = input.webOuterMm ?? 2 * nominalMm
  const holeMm = input.pinHoleMm ?? 0
  if (input.webOuterMm !== undefined) needWithin(SUM, 'webOuterMm', outerMm, DIAMETER_MM)
  needWithin(SUM, 'pinHoleMm', holeMm, PIN_HOLE_MM)
  if (outerMm <= nominalMm) throw new RangeError(`${SUM} needs webOuterMm more than the greatest bore`)
  if (holeMm >= nominalMm) throw new RangeError(`${SUM} needs pinHoleMm less than the greatest bore`)
  return { pinLeastMm, nominalMm, outerMm, holeMm }
}

function checkRest(input: FitInput, friction: { low: number; high: number }, floorMm: number): void {
  needWithin(SUM, 'engagementMm', input.engagementMm, LENGTH_MM)
  needWithin(SUM, 'floorMm', floorMm, LENGTH_MM)
  if (input.shopFloorMm !== undefined) needWithin(SUM, 'shopFloorMm', input.shopFloorMm, LENGTH_MM)
  needWithin(SUM, 'friction.low', friction.low, FRICTION)
  needWithin(SUM, 'friction.high', friction.high, FRICTION)
  if (friction.low > friction.high) throw new RangeError(`${SUM} needs friction.low no more than friction.high`)
  needWithin(SUM, 'pin.youngsGPa', input.pin?.youngsGPa ?? STEEL.youngsGPa, YOUNGS_GPA)
  needWithin(SUM, 'web.youngsGPa', input.web?.youngsGPa ?? STEEL.youngsGPa, YOUNGS_GPA)
  needWithin(SUM, 'pin.poisson', poissonOf(input.pin), POISSON)
  needWithin(SUM, 'web.poisson', poissonOf(input.web), POISSON)
}

function youngsMPa(metal: Metal | undefined): number {
  return (metal?.youngsGPa ?? STEEL.youngsGPa) * 1000
}

function poissonOf(metal: Metal | undefined): number {
  return metal?.poisson ?? STEEL.poisson
}
