import { scaleLinear } from 'd3-scale'
import type { Room } from '#web/lib/use-room.ts'

export interface StepCurve {
  key: string
  name: string
  /** Dashes instead of a solid line. */
  dashed: boolean
  /** Where it falls, in rising hours. */
  falls: readonly StepFall[]
  /** When the others were last heard of, in rising hours. */
  heard: readonly { hours: number; count: number }[]
}

export interface StepFall {
  hours: number
  /** Still running from here on, 0 to 1, and its interval where it has one. */
  share: number
  low?: number | undefined
  high?: number | undefined
  /** Heard of here or later, and how many of them came back here. */
  atRisk: number
  back: number
}

interface Spot {
  x: number
  y: number
}

export interface StepLayout {
  width: number
  height: number
  plot: { left: number; right: number; top: number; bottom: number }
  acrossTicks: { value: number; x: number }[]
  upTicks: { value: number; y: number }[]
  curves: { key: string; dashed: boolean; path: string; heard: Spot[]; label: Spot & { lines: string[] } }[]
}

/** Barlow Semi Condensed, an average letter, in ems. */
const LETTER_WIDTH = 0.47

/** What is still running at these hours: 1 before the first fall. */
export function shareAt(curve: Pick<StepCurve, 'falls'>, hours: number): number {
  return curve.falls.filter((fall) => fall.hours <= hours).at(-1)?.share ?? 1
}

/** How far its own points reach. */
export function lastHours(curve: Pick<StepCurve, 'falls' | 'heard'>): number {
  return Math.max(0, ...curve.falls.map((fall) => fall.hours), ...curve.heard.map((one) => one.hours))
}

/** The lowest line of the picture, in hundredths: a whole ten under the lowest share, and at least ten under the hundred. */
function floorOf(curves: readonly StepCurve[]): number {
  const lowest = Math.min(1, ...curves.flatMap((curve) => curve.falls.map((fall) => fall.share)))
  return Math.min(90, Math.max(0, Math.floor(lowest * 10 + 1e-9) * 10))
}

/** A name on one line or, where it is too long for its room, on two. */
function linesOf(name: string, room: number, letter: number): string[] {
  const words = name.split(' ')
  const fits = (text: string) => text.length * letter * LETTER_WIDTH <= room
  if (fits(name) || words.length === 1) return [name]
  let first = words[0] ?? ''
  let taken = 1
  while (taken < words.length - 1 && fits(`${first} ${words[taken]}`)) {
    first += ` ${words[taken]}`
    taken += 1
  }
  return [first, words.slice(taken).join(' ')]
}

/**
 * Step curves of what is still running against hours, each drawn as far as its own last hours and no further, its name after
 * its end. The scale across holds every point from 0; the scale up begins at a whole ten beneath the lowest. CSS pixels.
 */
export function stepLayout(curves: readonly StepCurve[], { width, letter }: Room): StepLayout {
  const nameRoom = width * 0.34
  const lines = new Map(curves.map((curve) => [curve.key, linesOf(curve.name, nameRoom, letter)]))
  const longest = Math.max(0, ...[...lines.values()].flat().map((line) => line.length))
  const height = Math.round(Math.max(letter * 13, Math.min(width * 0.46, letter * 19)))
  const plot = {
    left: letter * 2.4,
    right: width - Math.min(nameRoom, longest * letter * LETTER_WIDTH) - letter * 0.8,
    top: letter * 2.2,
    bottom: height - letter * 3,
  }
  const x = scaleLinear([0, Math.max(10, ...curves.map(lastHours))], [plot.left, plot.right])
  const y = scaleLinear([floorOf(curves), 100], [plot.bottom, plot.top])
  const across = x.ticks(Math.max(2, Math.min(6, Math.floor((plot.right - plot.left) / (letter * 3)))))
  const up = y.ticks(Math.max(2, Math.min(6, Math.floor((plot.bottom - plot.top) / (letter * 1.6)))))
  return {
    width,
    height,
    plot,
    acrossTicks: across.map((value) => ({ value, x: x(value) })),
    upTicks: up.map((value) => ({ value, y: y(value) })),
    curves: apart(
      curves.map((curve) => {
        const end = { x: x(lastHours(curve)), y: y(100 * shareAt(curve, lastHours(curve))) }
        const down = curve.falls.map((fall) => `H${x(fall.hours)}V${y(100 * fall.share)}`).join('')
        return {
          key: curve.key,
          dashed: curve.dashed,
          path: `M${x(0)} ${y(100)}${down}H${end.x}`,
          heard: curve.heard.map(({ hours }) => ({ x: x(hours), y: y(100 * shareAt(curve, hours)) })),
          label: { x: end.x + letter * 0.5, y: end.y + letter * 0.35, lines: lines.get(curve.key) ?? [] },
        }
      }),
      letter,
      // A name at the foot stands on the line, clear of its marks.
      plot.bottom - letter * 0.4,
    ),
  }
}

/** Names that would lie on one another are moved apart: down from the highest, and up again where they would leave the plot. */
function apart(curves: StepLayout['curves'], letter: number, bottom: number): StepLayout['curves'] {
  const down = [...curves].sort((one, other) => one.label.y - other.label.y)
  const line = letter * 1.2
  const at = new Map<string, number>()
  let free = Number.NEGATIVE_INFINITY
  for (const { key, label } of down) {
    const y = Math.max(label.y, free)
    at.set(key, y)
    free = y + label.lines.length * line
  }
  let most = bottom
  for (const { key, label } of [...down].reverse()) {
    const y = Math.min(at.get(key) ?? label.y, most - (label.lines.length - 1) * line)
    at.set(key, y)
    most = y - line
  }
  return curves.map((curve) => ({ ...curve, label: { ...curve.label, y: at.get(curve.key) ?? curve.label.y } }))
}
