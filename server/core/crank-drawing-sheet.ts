import type { CrankEnd, CrankShape, WayOfHolding } from '#core/crank-shape.ts'

export interface CrankDrawingOptions {
  held: WayOfHolding
  /** Size of the drawing in its own units; the crank is laid out as large as both let it. */
  width: number
  maxHeight: number
  /** Size of the lettering in the same units. */
  text: number
  /** Also measure out the two supports from the crank's centre. */
  spans?: boolean
  /** Lines of text over and under the places; long lines are broken. */
  over?: { left?: string[]; pin?: string[]; right?: string[] }
  under?: { left?: string[]; right?: string[] }
}

/** What every part of the layout needs: the solid, its scale, and where things stand on the sheet. */
export interface Sheet {
  shape: CrankShape
  options: CrankDrawingOptions
  scale: number
  text: number
  line: number
  x: (mm: number) => number
  axis: number
  rimTop: number
  rimBottom: number
}

export interface DialPlace {
  isLeft: boolean
  end: CrankEnd
  dialX: number
  supportX: number
  surfaceY: number
  markY: number
  /** Letter on the far side of the mark from the webs, where there is no room on the near side. */
  letterOutside: boolean
}

/** How wide a line of text will be at most, in the drawing's units: no font is at hand here. From memory of the two faces. */
export function roughTextWidth(text: string, size: number): number {
  return text.length * size * 0.52
}

/** Millimetres as said on the drawing, no finer than a tenth. */
export function mm(value: number): string {
  return String(Math.round(value * 10) / 10)
}

/** Path data of a rectangle. */
export function box(x0: number, y0: number, x1: number, y1: number): string {
  return `M${n(x0)} ${n(y0)}H${n(x1)}V${n(y1)}H${n(x0)}Z`
}

export function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), Math.max(low, high))
}

/** A number as path data carry it. */
export function n(value: number): string {
  return String(Math.round(value * 100) / 100)
}
