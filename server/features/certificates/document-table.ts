import type { CertificateData } from '#core/certificate.ts'
import { type CertificateLine, certificateTable } from '#core/certificate-figures.ts'
import { endMark } from '#core/end-mark.ts'
import type { Layout } from '#server/features/certificates/document-layout.ts'
import { forTheEye, holder, PAPER_INKS, type Paper, rule, said } from '#server/plugins/paper.ts'
import { paintMarks } from '#server/plugins/paper-drawing.ts'
import type { Block } from '#server/plugins/paper-pages.ts'
import { drawText, layText, type Piece } from '#server/plugins/paper-text.ts'

interface Column {
  head: string
  share: number
  align: 'left' | 'right'
  cell(line: CertificateLine): string | Piece[]
}

/** Shares of the sheet's width; they add up to 1. */
const COLUMNS: Column[] = [
  { head: 'as received', share: 0.105, align: 'right', cell: (line) => [{ text: line.asReceived, face: 'figure' }] },
  { head: 'now', share: 0.105, align: 'right', cell: (line) => [{ text: line.nowMm, face: 'strong-figure' }] },
  { head: 'thou', share: 0.075, align: 'right', cell: (line) => [{ text: line.thou, face: 'figure' }] },
  { head: 'give or take', share: 0.1, align: 'right', cell: (line) => [{ text: line.giveOrTake, face: 'figure' }] },
  { head: 'allowed', share: 0.165, align: 'right', cell: (line) => [{ text: line.allowed, face: 'figure' }] },
  { head: '', share: 0.085, align: 'left', cell: (line) => [{ text: line.whose, ink: 'soft' }] },
  { head: 'which is', share: 0.135, align: 'left', cell: verdictPieces },
]
const FIRST_SHARE = 0.23
const GAP = 7
const MARK_ROOM = 15
/** Notes run on under the figures, up to the verdict, which may take several lines itself. */
const NOTES_SHARE = 0.86

/** The table, a block a line, so that it parts between lines. */
export function tableBlocks(paper: Paper, layout: Layout, data: CertificateData): Block[] {
  let table: PDFKit.PDFStructureElement | undefined
  const within = () => {
    table ??= holder(paper, paper.root, 'Table')
    return table
  }
  return [headBlock(paper, layout, within), ...certificateTable(data).map((line) => lineBlock(paper, layout, line, within))]
}

function headBlock(paper: Paper, layout: Layout, within: () => PDFKit.PDFStructureElement): Block {
  const height = layout.small * 1.4 + 3
  const draw = (y: number) => {
    const row = holder(paper, within(), 'TR')
    const style = { size: layout.small, ink: 'soft' as const }
    said(paper, row, 'TH', () => drawText(paper, layText(paper, 'in mm', layout.width * FIRST_SHARE, style), layout.left, y), {
      scope: 'Column',
    })
    for (const { column, x, width } of places(layout)) {
      said(paper, row, 'TH', () => drawText(paper, layText(paper, column.head, width, style), x, y, column.align), { scope: 'Column' })
    }
    rule(paper, layout.left, y + height - 1, layout.width)
  }
  return { height, gap: 10, draw }
}

function lineBlock(paper: Paper, layout: Layout, line: CertificateLine, within: () => PDFKit.PDFStructureElement): Block {
  const { left, width, body, small } = layout
  const indent = line.end ? MARK_ROOM : 0
  const what = layText(paper, line.what, width * FIRST_SHARE - indent, { size: body, leading: 1.25 })
  const notes =
    line.notes.length > 0
      ? [layText(paper, line.notes.join(' · '), width * NOTES_SHARE - indent, { size: small * 0.95, ink: 'soft', leading: 1.2 })]
      : []
  const cells = places(layout).map((place) => ({
    ...place,
    laid: layText(paper, place.column.cell(line), place.width, { size: body, leading: 1.25 }),
  }))
  const noteTop = Math.max(what.height, body * 1.25)
  const notesHeight = notes.reduce((sum, note) => sum + note.height, 0)
  const height = 3 + Math.max(noteTop + notesHeight, ...cells.map((cell) => cell.laid.height)) + 3.5
  const draw = (y: number) => {
    const row = holder(paper, within(), 'TR')
    if (line.end) {
      const { end } = line
      forTheEye(paper, () => paintMarks(paper, [endMark(left + 5, y + 3 + body * 0.63, end === 'left', 4)], 0, 0))
    }
    said(
      paper,
      row,
      'TH',
      () => {
        drawText(paper, what, left + indent, y + 3)
        let at = y + 3 + noteTop
        for (const note of notes) {
          drawText(paper, note, left + indent, at)
          at += note.height
        }
      },
      { scope: 'Row' },
    )
    for (const { column, x, laid } of cells) {
      if (column.cell === verdictPieces && line.past) forTheEye(paper, () => pastMark(paper, x, y + 3 + body * 0.63))
      said(paper, row, 'TD', () => drawText(paper, laid, column.cell === verdictPieces && line.past ? x + 9 : x, y + 3, column.align))
    }
    rule(paper, left, y + height - 0.5, width, { ink: 'hair' })
  }
  return { height, gap: 0, draw }
}

function places({ left, width }: Layout): { column: Column; x: number; width: number }[] {
  let x = left + width * FIRST_SHARE
  return COLUMNS.map((column) => {
    const wide = width * column.share
    const place = {
      column,
      x: column.align === 'left' ? x + GAP - 1 : x,
      width: wide - (column.align === 'left' ? GAP - 1 : 0) - (column.cell === verdictPieces ? 9 : 0),
    }
    x += wide
    return place
  })
}

function verdictPieces(line: CertificateLine): Piece[] {
  return [
    line.past
      ? { text: line.verdict, face: 'strong', ink: 'over' }
      : { text: line.verdict, face: line.verdict === 'within' ? 'text' : 'strong' },
  ]
}

function pastMark(paper: Paper, x: number, y: number): void {
  paper.doc.path(`M${x} ${y + 3}L${x + 3.5} ${y - 3.2}L${x + 7} ${y + 3}Z`).fill(PAPER_INKS.over)
}
