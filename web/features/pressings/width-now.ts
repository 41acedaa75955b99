import { BINARY_DUST_MM } from '#core/limits.ts'
import { lengthAt20C } from '#core/units.ts'
import { type Window, width } from '#core/width.ts'

/** Webs, rod and washers as measured apart, mm. */
export interface Stack {
  webLeftMm: number
  webRightMm: number
  rodWidthMm: number
  washersMm: readonly number[]
}

/** Where the width stands against both windows, all at 20 °C. */
export interface WidthNow {
  cases: Window
  clearance: Window | undefined
  /** Widths that give the rod its clearance; absent while the stack is not known. */
  rod: Window | undefined
  /** Widths that meet both; null where none does. */
  both: Window | null
  aimMm: number | undefined
  nowMm: number | undefined
  clearanceNowMm: number | undefined
  toGoMm: number | undefined
}

export interface WidthAsked {
  cases: Window
  clearance: Window | undefined
  stack: Stack | undefined
  readMm: number | undefined
  temperatureC: number | undefined
}

/** The two windows by the sum of the book; without a stack only the cases count, and that is said. */
export function widthNow({ cases, clearance, stack, readMm, temperatureC }: WidthAsked): WidthNow {
  const nowMm = readMm === undefined ? undefined : lengthAt20C(readMm, temperatureC ?? 20)
  if (stack === undefined || clearance === undefined) {
    const aimMm = (cases.minMm + cases.maxMm) / 2
    const toGoMm = nowMm === undefined ? undefined : nowMm - aimMm
    return { cases, clearance, rod: undefined, both: cases, aimMm, nowMm, clearanceNowMm: undefined, toGoMm }
  }
  const sum = width({ ...stack, width: cases, clearance, widthNowMm: readMm, partTemperatureC: temperatureC })
  return {
    cases,
    clearance,
    rod: { minMm: sum.stackMm + clearance.minMm, maxMm: sum.stackMm + clearance.maxMm },
    both: sum.window,
    aimMm: sum.aim?.widthMm,
    nowMm,
    clearanceNowMm: sum.clearanceNowMm,
    toGoMm: sum.toGoMm,
  }
}

/** Where the width is: still wide of both windows, in them, or pressed past them. */
export function whereItIs({ both, nowMm }: WidthNow): 'unknown' | 'wide' | 'in' | 'past' {
  if (nowMm === undefined || both === null) return 'unknown'
  if (nowMm > both.maxMm + BINARY_DUST_MM) return 'wide'
  return nowMm < both.minMm - BINARY_DUST_MM ? 'past' : 'in'
}
