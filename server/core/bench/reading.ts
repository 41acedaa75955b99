import type { MarksRun } from '#core/bench/marks-run.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'

/** One reading, mm (of a phase: degrees). atDeg: the mark under the dial, or where a whole swing read highest; degrees clockwise from the pin. */
export interface Reading {
  place: string
  atDeg?: number | undefined
  mm: number
}

/** How the crank lay and where the dials stood, mm: supports from the crank's centre, dials from their support, + outboard. */
export interface RunoutSetUp {
  held: WayOfHolding
  supportLeftMm: number
  supportRightMm: number
  dialLeftMm: number
  dialRightMm: number
  /** What the dials stood on, in the words of the sheet or of the hand. */
  surfaceLeft?: string | undefined
  surfaceRight?: string | undefined
  /** Marks left out at an end because a keyway lies there, degrees clockwise from the pin. */
  skippedLeftDeg?: readonly number[] | undefined
  skippedRightDeg?: readonly number[] | undefined
  /** How the marks on the rim run, as the hand that read them said; the angles are clockwise whichever it is. */
  marksRun?: MarksRun | undefined
  /** The crank was at the temperature of the room. */
  cold: boolean
}
