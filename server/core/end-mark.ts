import { box } from '#core/crank-drawing-sheet.ts'
import type { Mark } from '#core/marks.ts'

/** The mark of an end: left a filled disc, right an open square; r is half its width. */
export function endMark(x: number, y: number, isLeft: boolean, r: number): Mark {
  if (isLeft) return { kind: 'circle', x, y, r, fill: 'ink' }
  const side = r * 0.9
  return { kind: 'path', d: box(x - side, y - side, x + side, y + side), fill: 'paper', stroke: 'ink', width: r * 0.3 }
}
