import type { Room } from '#web/lib/use-room.ts'
import type { Bar } from '#web/ui/weeks-layout.ts'

export interface PartOf {
  key: string
  /** What stands beneath the bar. */
  label: string
  /** So many … */
  count: number
  /** … of so many. */
  of: number
}

export interface PartBarsLayout {
  width: number
  height: number
  left: number
  right: number
  bottom: number
  bars: { key: string; whole: Bar; part: Bar; words?: { x: number; y: number; text: string } }[]
  labels: { key: string; x: number; text: string }[]
  labelY: number
  rules: { y: number; count: number }[]
}

const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000]

/** Upright bars: the whole in outline, the part filled from the line up, all on one scale from 0. CSS pixels of the room. */
export function partBarsLayout(parts: readonly PartOf[], { width, letter }: Room): PartBarsLayout {
  const left = letter * 2.2
  const right = width - letter * 0.4
  const top = letter * 1.6
  const plotHeight = Math.max(letter * 7, Math.min(width * 0.26, letter * 10))
  const bottom = top + plotHeight
  const most = Math.max(1, ...parts.map((part) => part.of))
  const each = plotHeight / most
  const pitch = (right - left) / Math.max(1, parts.length)
  const barWidth = Math.min(pitch * 0.64, letter * 2.4)
  const bar = (place: number, count: number): Bar => ({
    x: left + (place + 0.5) * pitch - barWidth / 2,
    y: bottom - count * each,
    width: barWidth,
    height: count * each,
  })
  const every = Math.max(1, Math.ceil((letter * 2.2) / pitch))
  const wordsFit = pitch >= letter * 3.4
  const step = STEPS.find((one) => one * each >= letter * 1.5) ?? 10_000
  return {
    width,
    height: bottom + letter * 2,
    left,
    right,
    bottom,
    bars: parts.map((part, place) => {
      const whole = bar(place, part.of)
      return {
        key: part.key,
        whole,
        part: bar(place, part.count),
        ...(wordsFit && part.of > 0
          ? { words: { x: whole.x + barWidth / 2, y: whole.y - letter * 0.4, text: `${part.count} of ${part.of}` } }
          : {}),
      }
    }),
    labels: parts.flatMap((part, place) =>
      (parts.length - 1 - place) % every === 0 ? [{ key: part.key, x: left + (place + 0.5) * pitch, text: part.label }] : [],
    ),
    labelY: bottom + letter * 1.4,
    rules: Array.from({ length: Math.floor(most / step) }, (_nothing, place) => ({
      count: (place + 1) * step,
      y: bottom - (place + 1) * step * each,
    })),
  }
}
