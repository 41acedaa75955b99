import type { Room } from '#web/lib/use-room.ts'

export interface WeekCount {
  key: string
  /** What stands beneath the bars: the number of the week. */
  label: string
  cameIn: number
  wentOut: number
}

/** A rectangle in the picture's own measure, CSS pixels. */
export interface Bar {
  x: number
  y: number
  width: number
  height: number
}

export interface WeeksLayout {
  width: number
  height: number
  left: number
  right: number
  /** The line that the bars stand on and hang from. */
  axisY: number
  weeks: { key: string; cameIn: Bar; wentOut: Bar }[]
  /** Labels that have room; the last week always has one. */
  labels: { key: string; x: number; text: string }[]
  labelY: number
  /** Hairlines at whole counts, above the axis and beneath it. */
  rules: { key: string; y: number; count: number }[]
  /** Where `in` and `out` stand, at the right of their halves. */
  words: { inY: number; outY: number }
}

const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000]

/**
 * Bars by week: what came in stands on the axis, what went out hangs from it, both on one scale, and no bar is cut off. All in
 * CSS pixels of the room. An empty list leaves the axis alone.
 */
export function weeksLayout(weeks: readonly WeekCount[], { width, letter }: Room): WeeksLayout {
  const left = letter * 2.2
  const right = width - letter * 2.4
  const top = letter * 0.8
  const plotHeight = Math.max(letter * 9, Math.min(width * 0.34, letter * 14))
  const most = {
    cameIn: Math.max(1, ...weeks.map((week) => week.cameIn)),
    wentOut: Math.max(1, ...weeks.map((week) => week.wentOut)),
  }
  const perCrank = plotHeight / (most.cameIn + most.wentOut)
  const axisY = top + most.cameIn * perCrank
  const bottom = top + plotHeight
  const pitch = (right - left) / Math.max(1, weeks.length)
  const barWidth = Math.min(pitch * 0.64, letter * 2.4)
  const middle = (place: number) => left + (place + 0.5) * pitch
  const bar = (place: number, y: number, count: number): Bar => ({
    x: middle(place) - barWidth / 2,
    y,
    width: barWidth,
    height: count * perCrank,
  })
  const every = Math.max(1, Math.ceil((letter * 1.9) / pitch))
  return {
    width,
    height: bottom + letter * 2.2,
    left,
    right,
    axisY,
    weeks: weeks.map((week, place) => ({
      key: week.key,
      cameIn: bar(place, axisY - week.cameIn * perCrank, week.cameIn),
      wentOut: bar(place, axisY, week.wentOut),
    })),
    labels: weeks.flatMap((week, place) =>
      (weeks.length - 1 - place) % every === 0 ? [{ key: week.key, x: middle(place), text: week.label }] : [],
    ),
    labelY: bottom + letter * 1.6,
    rules: rulesOf(most, perCrank, axisY, letter),
    words: { inY: (top + axisY) / 2, outY: (axisY + bottom) / 2 },
  }
}

function rulesOf(most: { cameIn: number; wentOut: number }, perCrank: number, axisY: number, letter: number): WeeksLayout['rules'] {
  const step = STEPS.find((one) => one * perCrank >= letter * 1.5) ?? 10_000
  const counts = (upTo: number) => Array.from({ length: Math.floor(upTo / step) }, (_nothing, place) => (place + 1) * step)
  return [
    ...counts(most.cameIn).map((count) => ({ key: `in ${count}`, y: axisY - count * perCrank, count })),
    ...counts(most.wentOut).map((count) => ({ key: `out ${count}`, y: axisY + count * perCrank, count })),
  ]
}
