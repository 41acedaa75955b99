import { type CrankDrawingOptions, clamp, type DialPlace, mm, n, roughTextWidth, type Sheet } from '#core/crank-drawing-sheet.ts'
import type { Mark } from '#core/marks.ts'

/** The two distances from support to dial: beside the webs where there is room, else below them. */
export function distanceMarks(dials: DialPlace[], sheet: Sheet, supportsBottom: number): { marks: Mark[]; bottom: number } {
  const { shape, x, text } = sheet
  const rows = dials.map((dial) => {
    const words = `${mm(Math.abs(dial.end.dialMm))} mm`
    const half = roughTextWidth(words, text) / 2
    const middle = clamp((dial.dialX + dial.supportX) / 2, half, sheet.options.width - half)
    return { dial, words, from: Math.min(dial.dialX, dial.supportX), to: Math.max(dial.dialX, dial.supportX), middle, half }
  })
  const clear = (from: number, to: number) => shape.webs.every((web) => to < x(web.fromMm) - text * 0.2 || from > x(web.toMm) + text * 0.2)
  const outermost = { left: x(shape.webs[0]!.fromMm) - text * 0.3, right: x(shape.webs.at(-1)!.toMm) + text * 0.3 }
  for (const row of rows) {
    if (!clear(row.from, row.to)) continue
    if (row.dial.isLeft) row.middle = Math.max(row.half, Math.min(row.middle, outermost.left - row.half))
    else row.middle = Math.min(sheet.options.width - row.half, Math.max(row.middle, outermost.right + row.half))
  }
  const beside = rows.every((row) => clear(row.from, row.to) && clear(row.middle - row.half, row.middle + row.half))
  const [left, right] = rows
  const collide = left !== undefined && right !== undefined && left.middle + left.half + text * 0.3 > right.middle - right.half
  const y = beside ? supportsBottom + text * 0.75 : Math.max(sheet.rimBottom, supportsBottom) + text * 0.75
  const marks = rows.flatMap((row, index) =>
    measured(row.from, row.to, y + (collide && index === 1 ? text * 1.9 : 0), row.middle, row.words, sheet),
  )
  return { marks, bottom: y + text * (collide ? 3.25 : 1.35) }
}

export function spanMarks(dials: DialPlace[], sheet: Sheet, above: number): { marks: Mark[]; bottom: number } {
  const { text, x } = sheet
  const y = Math.max(above, sheet.rimBottom) + text * 0.85
  const marks = dials.flatMap((dial) => {
    const [from, to] = dial.isLeft ? [dial.supportX, x(0)] : [x(0), dial.supportX]
    const words = `${mm(dial.end.supportMm)} mm`
    const room = roughTextWidth(words, text) / 2 + text * 0.15
    const middle = dial.isLeft ? Math.min((from + to) / 2, to - room) : Math.max((from + to) / 2, from + room)
    return measured(from, to, y, clamp(middle, room, sheet.options.width - room), words, sheet)
  })
  return { marks, bottom: y + text * 1.35 }
}

function measured(from: number, to: number, y: number, middle: number, words: string, { text }: Sheet): Mark[] {
  const tick = text * 0.4
  return [
    {
      kind: 'path',
      d: `M${n(from)} ${n(y)}H${n(to)}M${n(from)} ${n(y - tick)}V${n(y + tick)}M${n(to)} ${n(y - tick)}V${n(y + tick)}`,
      stroke: 'soft',
      width: text * 0.07,
    },
    { kind: 'text', x: middle, y: y + text * 1.12, text: words, size: text, anchor: 'middle', ink: 'soft' },
  ]
}

export function overLabels(options: CrankDrawingOptions, line: number): { height: number; marks: (dials: DialPlace[]) => Mark[] } {
  const { width, text, over } = options
  const middle = over?.pin?.length ? width * 0.28 : 0
  const side = (width - middle) / 2 - text * 0.5
  const lines = {
    left: broken(over?.left, side, text),
    pin: broken(over?.pin, middle - text * 0.5, text),
    right: broken(over?.right, side, text),
  }
  const rows = Math.max(lines.left.length, lines.pin.length, lines.right.length)
  const marks = (dials: DialPlace[]) => [
    ...stack(lines.left, clampedMiddle(lines.left, dials[0]!.dialX, 0, side, text), line * (rows - lines.left.length), line, text),
    ...stack(lines.pin, width / 2, line * (rows - lines.pin.length), line, text),
    ...stack(
      lines.right,
      clampedMiddle(lines.right, dials[1]!.dialX, width - side, width, text),
      line * (rows - lines.right.length),
      line,
      text,
    ),
  ]
  return { height: rows === 0 ? 0 : rows * line + text * 0.35, marks }
}

export function underLabels(sheet: Sheet, dials: DialPlace[], top: number): { marks: Mark[]; bottom: number } {
  const { options, text, line } = sheet
  const side = options.width / 2 - text * 0.5
  const left = broken(options.under?.left, side, text)
  const right = broken(options.under?.right, side, text)
  const rows = Math.max(left.length, right.length)
  if (rows === 0) return { marks: [], bottom: top }
  const marks = [
    ...stack(left, clampedMiddle(left, dials[0]!.dialX, 0, side, text), top, line, text),
    ...stack(right, clampedMiddle(right, dials[1]!.dialX, options.width - side, options.width, text), top, line, text),
  ]
  return { marks, bottom: top + rows * line + text * 0.2 }
}

function stack(lines: string[], middle: number, top: number, line: number, size: number): Mark[] {
  return lines.map((text, index) => ({ kind: 'text', x: middle, y: top + line * index + size, text, size, anchor: 'middle' }))
}

function clampedMiddle(lines: string[], wanted: number, from: number, to: number, size: number): number {
  const half = Math.max(0, ...lines.map((one) => roughTextWidth(one, size))) / 2
  return clamp(wanted, from + half, to - half)
}

/** Lines broken at spaces to a width; a single word longer than that stays whole. */
function broken(lines: string[] | undefined, width: number, size: number): string[] {
  return (lines ?? []).flatMap((whole) => {
    const out: string[] = []
    for (const word of whole.split(' ')) {
      const last = out.at(-1)
      if (last !== undefined && roughTextWidth(`${last} ${word}`, size) <= width) out[out.length - 1] = `${last} ${word}`
      else out.push(word)
    }
    return out
  })
}
