import { distanceMarks, overLabels, spanMarks, underLabels } from '#core/crank-drawing-lettering.ts'
import { dialMarks, dialsOf, solidMarks, supportMarks } from '#core/crank-drawing-parts.ts'
import { type CrankDrawingOptions, mm, type Sheet } from '#core/crank-drawing-sheet.ts'
import { type CrankEnd, type CrankGeometry, type CrankShape, shapeOfCrank, type WayOfHolding } from '#core/crank-shape.ts'
import { HELD_WORDS } from '#core/held-words.ts'
import type { Drawing } from '#core/marks.ts'

/**
 * How the crank lay and where the dials stood, drawn to one scale: shafts, seats, webs and pin as marks, the supports
 * under it, the left dial as a filled disc on a solid line, the right as an open square on a dashed line, and the
 * distances in mm.
 *
 * @example drawCrank({ ...data.shape, ...data.setup }, { held: 'v-blocks-bare', width: 690, maxHeight: 300, text: 14 }).width // 690
 *
 * Lengths along the crank and its stroke are to scale; lettering, marks and supports are not. No text covers another for
 * any geometry that shapeOfCrank takes, as far as roughTextWidth tells its width. Throws RangeError where shapeOfCrank
 * does, and for a sheet under 20 letters wide or under 10 letters high. Layout of our own, no source.
 */
export function drawCrank(geometry: CrankGeometry, options: CrankDrawingOptions): Drawing {
  const { width, maxHeight, text } = options
  if (!(text > 0 && width >= text * 20 && maxHeight >= text * 10))
    throw new RangeError('drawCrank needs a sheet at least 20 letters wide and 10 high')
  const shape = shapeOfCrank(geometry, options.held)
  const margin = text * 2
  let scale = (width - 2 * margin) / (shape.rightTipMm - shape.leftTipMm)
  let drawn = layAt(geometry, shape, options, scale)
  // What is not to scale takes its height first; the rest is the crank's. A few rounds, as marks may move at a new scale.
  for (let round = 0; round < 60 && drawn.height > maxHeight; round++) {
    const fixed = drawn.height - 2 * shape.rimRadiusMm * scale
    scale = Math.max(scale * 0.5, Math.min(scale * 0.98, (maxHeight - fixed) / (2 * shape.rimRadiusMm)))
    drawn = layAt(geometry, shape, options, scale)
  }
  return drawn
}

function layAt(geometry: CrankGeometry, shape: CrankShape, options: CrankDrawingOptions, scale: number): Drawing {
  const { text, width } = options
  const line = text * 1.25
  const middle = (shape.leftTipMm + shape.rightTipMm) / 2
  const x = (mm: number) => width / 2 + (mm - middle) * scale
  const over = overLabels(options, line)
  const rim = shape.rimRadiusMm * scale
  // Dials are placed around an axis at 0 first; how far they reach up then says where the axis lies.
  const loose: Sheet = { shape, options, scale, text, line, x, axis: 0, rimTop: -rim, rimBottom: rim }
  const reach = Math.max(rim, ...dialsOf(geometry, loose).map((dial) => text * 0.8 - dial.markY))
  const axis = over.height + reach + text * 0.15
  const sheet: Sheet = { ...loose, axis, rimTop: axis - rim, rimBottom: axis + rim }
  const dials = dialsOf(geometry, sheet)

  const supports = supportMarks(geometry, sheet)
  const distances = distanceMarks(dials, sheet, supports.bottom)
  const spans = options.spans ? spanMarks(dials, sheet, distances.bottom) : { marks: [], bottom: distances.bottom }
  const under = underLabels(sheet, dials, Math.max(spans.bottom, sheet.rimBottom + text * 0.4))
  return {
    width,
    height: Math.max(under.bottom, sheet.rimBottom + text * 0.4),
    label: sentence(geometry, options.held),
    marks: [
      ...solidMarks(geometry, sheet),
      ...supports.marks,
      ...dials.flatMap((dial) => dialMarks(dial, sheet)),
      ...distances.marks,
      ...spans.marks,
      ...over.marks(dials),
      ...under.marks,
    ],
  }
}

function sentence(geometry: CrankGeometry, held: WayOfHolding): string {
  const place = (end: CrankEnd) =>
    `${mm(Math.abs(end.dialMm))} mm ${end.dialMm > 0 ? 'out' : 'in'} from its support, on ${SURFACE_WORDS[end.surface]}`
  return `The crank to one scale, held ${HELD_WORDS[held]}, ${mm(geometry.left.supportMm)} mm to the left and ${mm(geometry.right.supportMm)} mm to the right of its centre. Left dial ${place(geometry.left)}; right dial ${place(geometry.right)}.`
}

const SURFACE_WORDS: Record<CrankEnd['surface'], string> = {
  plain: 'the plain ground shaft',
  taper: 'the taper',
  thread: 'the thread',
  spline: 'the spline',
}
