import { scaleLinear } from 'd3-scale'
import type { Room } from '#web/lib/use-room.ts'

export interface StudyDots {
  parts: readonly string[]
  people: readonly { id: string; name: string }[]
  readings: readonly { part: number; round: number; personId: string; mm: number }[]
}

export interface StudyRow {
  key: string
  part: string
  /** Middle of the row. */
  y: number
  top: number
  bottom: number
  /** One line a person: from the lowest reading to the highest, and a dot each. */
  lines: { key: string; person: number; y: number; from: number; to: number; dots: { key: string; x: number; mm: number }[] }[]
}

export interface StudyLayout {
  width: number
  height: number
  plot: { left: number; right: number; top: number; bottom: number }
  ticks: { value: number; x: number }[]
  rows: StudyRow[]
}

/** Barlow Semi Condensed, an average letter, in ems. */
const LETTER_WIDTH = 0.47

/**
 * Every reading of a study: a row for each part, in it a line for each person with its dots, along one scale of mm that holds
 * every reading. CSS pixels; the names of the parts stand above their rows where the room is narrow.
 */
export function studyLayout({ parts, people, readings }: StudyDots, { width, letter }: Room): StudyLayout {
  const longest = Math.max(0, ...parts.map((part) => part.length)) * letter * LETTER_WIDTH
  const isNarrow = longest > width * 0.28
  const nameHeight = isNarrow ? letter * 1.4 : 0
  const lineHeight = Math.max(10, letter * 0.75)
  const rowHeight = nameHeight + people.length * lineHeight + letter * 0.7
  const plot = {
    left: isNarrow ? letter * 0.6 : longest + letter,
    right: width - letter,
    top: letter * 0.5,
    bottom: letter * 0.5 + parts.length * rowHeight,
  }
  const all = readings.map((one) => one.mm)
  const low = Math.min(...all)
  const high = Math.max(...all)
  // Readings that are all the same stand in the middle of a scale of one hundredth.
  const room = high > low ? 0 : 0.005
  const x = scaleLinear([low - room, high + room], [plot.left, plot.right]).nice(5)
  const ticks = x.ticks(Math.max(2, Math.min(6, Math.floor((plot.right - plot.left) / (letter * 5)))))
  return {
    width,
    height: Math.round(plot.bottom + letter * 3),
    plot,
    ticks: ticks.map((value) => ({ value, x: x(value) })),
    rows: parts.map((part, index) => {
      const top = plot.top + index * rowHeight
      return {
        key: part,
        part,
        top,
        bottom: top + rowHeight,
        y: isNarrow ? top + letter : top + rowHeight / 2 + letter * 0.35,
        lines: people.map((person, place) => {
          const own = readings.filter((one) => one.part === index + 1 && one.personId === person.id)
          const spots = own.map((one) => ({ key: String(one.round), x: x(one.mm), mm: one.mm }))
          return {
            key: person.id,
            person: place,
            y: top + nameHeight + letter * 0.35 + (place + 0.5) * lineHeight,
            from: Math.min(...spots.map((spot) => spot.x)),
            to: Math.max(...spots.map((spot) => spot.x)),
            dots: spots,
          }
        }),
      }
    }),
  }
}
