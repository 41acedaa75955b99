/** Sets of readings of an invented sheet, as a hand sends them and as the book keeps them. Lengths in mm, angles in degrees. */
import type { MeasurementNew, RunoutSetup } from '#contract/measurements.ts'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { type RunoutFigures, runoutFigures } from '#core/bench/runout-set.ts'
import { byDoubt } from '#core/bench/worth-by-doubt.ts'
import { dialAt, readingsFrom } from '#core/truing-faults.ts'

/** An invented four-stroke single of 450 cm³. */
export const SHEET = {
  strokeMm: 62.4,
  widthMinMm: 63.95,
  widthMaxMm: 64.05,
  clearanceMinMm: 0.25,
  clearanceMaxMm: 0.5,
  pinDiameterMm: 35,
  engagementMm: 21.8,
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  limitMakerLeftMm: 0.03,
  limitMakerRightMm: 0.03,
  limitHouseLeftMm: 0.02,
  limitHouseRightMm: 0.02,
} as const

export const SET_UP: RunoutSetup = {
  held: 'v-blocks-bare',
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  surfaceLeft: 'taper 1:5, keyway skipped',
  surfaceRight: 'plain 20 mm',
  cold: true,
}

export const DIAL_STEP_MM = 0.01
const MARKS = [0, 45, 90, 135, 180, 225, 270, 315]

/** Both ends read at eight marks, 12 read again, of a crank whose webs swing this much. */
export function turn(swingMm: number): MeasurementNew['values'] {
  const arrows = readingsFrom({ swingMm, openRad: swingMm / 400, throwMm: 0, cockedRad: 0 }, SET_UP)
  const read = (side: 'left' | 'right', mark: number) => Number(dialAt(arrows[side], mark).toFixed(3))
  return (['left', 'right'] as const).flatMap((side) => [
    ...MARKS.map((mark) => ({ place: side, atDeg: mark, mm: read(side, mark) })),
    { place: `${side}-again`, mm: read(side, 0) },
  ])
}

/** Both ends as one full swing each. */
export function swings(leftMm: number, rightMm: number): MeasurementNew['values'] {
  return [
    { place: 'left-swing', atDeg: 90, mm: leftMm },
    { place: 'right-swing', atDeg: 270, mm: rightMm },
  ]
}

export const WIDTH = [0, 90, 180, 270].map((place) => ({ place: String(place), mm: 64 + place / 90_000 }))

/** What a runout set comes to on this sheet. */
export function figuresOf(values: MeasurementNew['values']): RunoutFigures {
  const readings = values.map(({ place, atDeg, mm }) => ({ place, mm, ...(atDeg === undefined ? {} : { atDeg }) }))
  return runoutFigures({
    values: readings,
    setUp: SET_UP,
    dialStepMm: DIAL_STEP_MM,
    sheet: SHEET,
    shopLimitMm: FIRST_SETTINGS.houseLimitMm,
    expand: byDoubt,
  })
}
