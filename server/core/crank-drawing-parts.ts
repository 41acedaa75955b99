import { box, type DialPlace, n, type Sheet } from '#core/crank-drawing-sheet.ts'
import { type CrankGeometry, radiusAt, type ShaftPart } from '#core/crank-shape.ts'
import { endMark } from '#core/end-mark.ts'
import type { Mark } from '#core/marks.ts'

export function solidMarks(geometry: CrankGeometry, sheet: Sheet): Mark[] {
  const { shape, x, axis, scale, text } = sheet
  const width = text * 0.1
  const marks: Mark[] = shape.shaft.flatMap((part) => partMarks(part, sheet))
  for (const pin of shape.pins) {
    const y = axis - pin.upMm * scale
    const r = pin.radiusMm * scale
    marks.push({ kind: 'path', d: box(x(pin.fromMm), y - r, x(pin.toMm), y + r), fill: 'sheet', stroke: 'ink', width })
  }
  for (const web of shape.webs) {
    marks.push({ kind: 'path', d: box(x(web.fromMm), sheet.rimTop, x(web.toMm), sheet.rimBottom), fill: 'sheet', stroke: 'ink', width })
  }
  for (const pin of shape.pins) {
    const y = axis - pin.upMm * scale
    const r = pin.radiusMm * scale
    for (const [from, to] of [
      [pin.hiddenFromMm, pin.fromMm],
      [pin.toMm, pin.hiddenToMm],
    ] as const) {
      if (to > from)
        marks.push({
          kind: 'path',
          d: box(x(from), y - r, x(to), y + r),
          stroke: 'soft',
          width: width * 0.6,
          dash: [text * 0.3, text * 0.2],
        })
    }
  }
  for (const [end, sign, seat] of [
    [geometry.left, -1, shape.seatRadiusMm.left],
    [geometry.right, 1, shape.seatRadiusMm.right],
  ] as const) {
    if (!end.keyway) continue
    const half = seat * 0.14 * scale
    const d = box(x(sign * (end.supportMm + end.keyway.fromMm)), axis - half, x(sign * (end.supportMm + end.keyway.toMm)), axis + half)
    marks.push({ kind: 'path', d, fill: 'sheet', stroke: 'ink', width: width * 0.7 })
  }
  const overrun = text * 0.9
  const d = `M${n(x(shape.leftTipMm) - overrun)} ${n(axis)}H${n(x(shape.rightTipMm) + overrun)}`
  marks.push({ kind: 'path', d, stroke: 'soft', width: width * 0.6, dash: [text * 0.9, text * 0.3, text * 0.2, text * 0.3] })
  return marks
}

function partMarks(part: ShaftPart, { x, axis, scale, text }: Sheet): Mark[] {
  const [x0, x1] = [x(part.fromMm), x(part.toMm)]
  const [r0, r1] = [part.fromRadiusMm * scale, part.toRadiusMm * scale]
  const outline = `M${n(x0)} ${n(axis - r0)}L${n(x1)} ${n(axis - r1)}V${n(axis + r1)}L${n(x0)} ${n(axis + r0)}Z`
  const marks: Mark[] = [{ kind: 'path', d: outline, fill: 'sheet', stroke: 'ink', width: text * 0.1 }]
  const fine = { kind: 'path', stroke: 'soft', width: text * 0.05 } as const
  if (part.kind === 'thread') {
    const pitch = text * 0.28
    const crests = Array.from({ length: Math.max(0, Math.floor((x1 - x0) / pitch)) }, (_, i) => x0 + (i + 0.5) * pitch)
    if (crests.length > 0) marks.push({ ...fine, d: crests.map((at) => `M${n(at)} ${n(axis - r0)}V${n(axis + r0)}`).join('') })
  }
  if (part.kind === 'spline')
    marks.push({ ...fine, d: [-0.7, -0.25, 0.25, 0.7].map((k) => `M${n(x0)} ${n(axis + r0 * k)}H${n(x1)}`).join('') })
  return marks
}

export function supportMarks(geometry: CrankGeometry, sheet: Sheet): { marks: Mark[]; bottom: number } {
  const { shape, x, axis, scale, text, options } = sheet
  const marks: Mark[] = []
  let bottom = axis
  for (const isLeft of [true, false]) {
    const sign = isLeft ? -1 : 1
    const end = isLeft ? geometry.left : geometry.right
    const at = sign * end.supportMm
    const outline = { kind: 'path', fill: 'sheet', stroke: 'ink', width: text * 0.1 } as const
    if (options.held === 'centres') {
      const tip = x(isLeft ? shape.leftTipMm : shape.rightTipMm)
      marks.push({ ...outline, d: `M${n(tip)} ${n(axis)}L${n(tip + sign * text)} ${n(axis - text * 0.58)}V${n(axis + text * 0.58)}Z` })
      bottom = Math.max(bottom, axis + Math.max(text * 0.6, radiusAt(shape, at) * scale))
      continue
    }
    const seat = (isLeft ? shape.seatRadiusMm.left : shape.seatRadiusMm.right) * scale
    const half = Math.max(text * 0.4, 6 * scale)
    const ring = text * 0.75
    const wrapped =
      options.held.endsWith('bearings') || options.held === 'cases' || options.held === (isLeft ? 'lathe-left' : 'lathe-right')
    if (wrapped) {
      for (const side of [-1, 1])
        marks.push({ ...outline, d: box(x(at) - half, axis + side * seat, x(at) + half, axis + side * (seat + ring)) })
    }
    const foot = axis + seat + (wrapped ? ring : 0)
    bottom = Math.max(bottom, foot)
    if (options.held === 'cases' || options.held.startsWith('lathe')) continue
    if (options.held.startsWith('rollers'))
      marks.push({ kind: 'circle', x: x(at), y: foot + text * 0.55, r: text * 0.55, fill: 'sheet', stroke: 'ink', width: text * 0.1 })
    else marks.push({ ...outline, d: `M${n(x(at))} ${n(foot)}L${n(x(at) + text * 0.7)} ${n(foot + text * 1.2)}H${n(x(at) - text * 0.7)}Z` })
    bottom = Math.max(bottom, foot + text * 1.2)
  }
  return { marks, bottom }
}

export function dialsOf(geometry: CrankGeometry, sheet: Sheet): DialPlace[] {
  const { shape, x, axis, scale, text } = sheet
  const dials = [true, false].map((isLeft): DialPlace => {
    const end = isLeft ? geometry.left : geometry.right
    const sign = isLeft ? -1 : 1
    const at = sign * (end.supportMm + end.dialMm)
    const dialX = x(at)
    const surfaceY = axis - radiusAt(shape, at) * scale
    const byWeb = (from: number, to: number) =>
      shape.webs.some((web) => to > x(web.fromMm) - text * 0.25 && from < x(web.toMm) + text * 0.25)
    const raised = byWeb(dialX - text * 0.7, dialX + text * 0.7)
    const beside = Math.min(sheet.rimTop + text * 0.75, surfaceY - text * 1.5)
    const markY = raised ? Math.min(sheet.rimTop - text * 0.85, surfaceY - text * 1.5) : beside
    const letterOutside = !raised && byWeb(...((isLeft ? [dialX, dialX + text * 1.6] : [dialX - text * 1.6, dialX]) as [number, number]))
    return { isLeft, end, dialX, supportX: x(sign * end.supportMm), surfaceY, markY, letterOutside }
  })
  const [left, right] = dials as [DialPlace, DialPlace]
  // Two inboard dials may stand so near each other that their marks would meet: one then stands over the other.
  if (Math.abs(left.dialX - right.dialX) < text * 5) right.markY = Math.min(left.markY, right.markY) - text * 1.7
  return dials
}

export function dialMarks(dial: DialPlace, { text }: Sheet): Mark[] {
  const r = text * 0.55
  const stem: Mark = {
    kind: 'path',
    d: `M${n(dial.dialX)} ${n(dial.markY + r * 0.9)}V${n(dial.surfaceY)}`,
    stroke: 'ink',
    width: text * 0.11,
  }
  if (!dial.isLeft) stem.dash = [text * 0.45, text * 0.28]
  const toRight = dial.isLeft !== dial.letterOutside
  const letter: Mark = {
    kind: 'text',
    x: dial.dialX + (toRight ? 1 : -1) * text * 0.85,
    y: dial.markY + text * 0.36,
    text: dial.isLeft ? 'L' : 'R',
    size: text,
    anchor: toRight ? 'start' : 'end',
    strong: true,
  }
  return [stem, endMark(dial.dialX, dial.markY, dial.isLeft, r), letter]
}
