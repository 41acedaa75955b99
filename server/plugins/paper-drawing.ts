import type { Drawing, Mark } from '#core/marks.ts'
import { PAPER_INKS, type Paper, said } from '#server/plugins/paper.ts'
import { drawLineAt } from '#server/plugins/paper-text.ts'

/** Paints a drawing with its top left corner at x, y, a unit of the drawing being a point, and says what it shows. */
export function paintDrawing(paper: Paper, parent: PDFKit.PDFStructureElement, drawing: Drawing, x: number, y: number): void {
  const options = { alt: drawing.label, bbox: [x, y, x + drawing.width, y + drawing.height], placement: 'Block' }
  said(paper, parent, 'Figure', () => paintMarks(paper, drawing.marks, x, y), options)
}

/** Paints marks alone, saying nothing. */
export function paintMarks(paper: Paper, marks: readonly Mark[], x: number, y: number): void {
  const { doc } = paper
  for (const mark of marks) {
    if (mark.kind === 'text') {
      const face = mark.figure ? (mark.strong ? 'strong-figure' : 'figure') : mark.strong ? 'strong' : 'text'
      drawLineAt(paper, mark.text, x + mark.x, y + mark.y, { size: mark.size, face, ink: mark.ink ?? 'ink' }, mark.anchor)
      continue
    }
    doc.save().translate(x, y)
    if (mark.kind === 'circle') doc.circle(mark.x, mark.y, mark.r)
    else doc.path(mark.d)
    if (mark.stroke) doc.lineWidth(mark.width ?? 1)
    // pdfkit takes the whole pattern where its types know only one length.
    if (mark.kind === 'path' && mark.dash) doc.dash(mark.dash as unknown as number, {})
    const fill = mark.fill && PAPER_INKS[mark.fill]
    const stroke = mark.stroke && PAPER_INKS[mark.stroke]
    if (fill && stroke) doc.fillAndStroke(fill, stroke)
    else if (fill) doc.fill(fill)
    else if (stroke) doc.stroke(stroke)
    doc.restore()
  }
}
