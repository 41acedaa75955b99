import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import { oddReadings } from '#core/bench/odd-reading.ts'

/** What to ask before the width after a tap is taken; undefined where it goes on from the tap before. By the sum of the book. */
export function oddTap({ mm, beforeMm, sheet }: { mm: number; beforeMm: number | undefined; sheet: EngineSheet }): string | undefined {
  const [odd] = oddReadings({
    kind: 'width',
    phase: 'building',
    values: [{ place: '0', mm }],
    temperatureC: null,
    sheet,
    oursMm: [],
    beforeMm: beforeMm ?? null,
  })
  return odd?.says
}
