import type { CertificateData } from '#core/certificate.ts'
import type { Layout } from '#server/features/certificates/document-layout.ts'
import { fingerprintOf, type Seal } from '#server/features/certificates/seal.ts'
import { type Paper, rule, said } from '#server/plugins/paper.ts'
import { paintDrawing } from '#server/plugins/paper-drawing.ts'
import { type Block, textBlock } from '#server/plugins/paper-pages.ts'
import { qrDrawing } from '#server/plugins/paper-qr.ts'
import { drawText, type LaidText, layText } from '#server/plugins/paper-text.ts'

const GUTTER = 22
const QR_SIZE = 76
const TALLEST_COLUMN = 260

/** Fitting and first hours beside who did it and what the shop promises; one under the other where they are long. */
export function tailBlock(paper: Paper, layout: Layout, data: CertificateData, people: string[]): Block[] {
  const { left, width, body, small } = layout
  const columns = (wide: number) => {
    const text = (words: string): LaidText => layText(paper, words, wide, { size: small, leading: 1.3 })
    return [
      { head: 'Fitting and first hours', parts: [data.fitting, ...(data.runningIn ? [data.runningIn] : [])].map(text) },
      { head: 'By whom', parts: [...people, `Our promise: ${data.promise}`].map(text) },
    ]
  }
  const headHeight = body * 1.1 * 1.35
  const half = columns((width - GUTTER) / 2)
  const heights = half.map((column) => headHeight + column.parts.reduce((sum, part) => sum + part.height + 1.5, 0))
  if (Math.max(...heights) <= TALLEST_COLUMN) {
    const draw = (y: number) => {
      for (const [index, column] of half.entries()) drawColumn(paper, column, left + index * ((width + GUTTER) / 2), y, layout, headHeight)
    }
    return [{ height: Math.max(...heights), gap: 9, draw }]
  }
  return columns(width).flatMap((column) => [
    textBlock(paper, paper.root, layText(paper, column.head, width, { size: body * 1.1, face: 'strong' }), left, 9, 'H2'),
    ...column.parts.map((part) => textBlock(paper, paper.root, part, left, 1.5)),
  ])
}

function drawColumn(
  paper: Paper,
  column: { head: string; parts: LaidText[] },
  x: number,
  top: number,
  layout: Layout,
  headHeight: number,
): void {
  said(paper, paper.root, 'H2', () =>
    drawText(paper, layText(paper, column.head, layout.width, { size: layout.body * 1.1, face: 'strong' }), x, top),
  )
  let y = top + headHeight
  for (const part of column.parts) {
    const at = y
    said(paper, paper.root, 'P', () => drawText(paper, part, x, at))
    y += part.height + 1.5
  }
}

/** Where to look the sheet up: code to scan, number and check code to type, and the fingerprint of what it says. */
export function footBlock(paper: Paper, layout: Layout, data: CertificateData, seal: Seal): Block {
  const { left, width, body, small } = layout
  const x = left + QR_SIZE + 6
  const room = width - QR_SIZE - 6
  const lookUp = layText(
    paper,
    [
      { text: 'Look this sheet up by number ' },
      { text: data.number, face: 'figure' },
      { text: ' and check code ' },
      { text: data.checkCode, face: 'figure' },
      { text: ', or drop the file in.' },
    ],
    room,
    { size: body },
  )
  const where = layText(paper, data.pageUrl.split('?')[0] ?? data.pageUrl, room, { size: small, ink: 'soft' })
  const print = layText(
    paper,
    [
      { text: 'Fingerprint ' },
      { text: fingerprintOf(seal), face: 'figure' },
      ...(data.bookHead ? [{ text: ' · head of the book ' }, { text: data.bookHead.slice(0, 16), face: 'figure' as const }] : []),
    ],
    room,
    { size: small, ink: 'soft' },
  )
  const caution = layText(
    paper,
    'One crank, these figures; copy it whole. A shop’s own record of what it measured, not a calibration laboratory’s.',
    room,
    { size: small, ink: 'soft', leading: 1.25 },
  )
  const parts = [lookUp, where, print, caution]
  const textHeight = parts.reduce((sum, part) => sum + part.height, 0)
  const height = 8 + Math.max(QR_SIZE, textHeight)
  const draw = (top: number) => {
    rule(paper, left, top, width, { ink: 'rule' })
    // The quiet zone is white already: it may reach into the margin so that the code itself stands on the edge.
    paintDrawing(paper, paper.root, qrDrawing(data.pageUrl, QR_SIZE, `Code to scan, leading to ${data.pageUrl}`), left - 7, top + 8)
    let y = top + 8 + (Math.max(QR_SIZE, textHeight) - textHeight) / 2
    for (const part of parts) {
      const at = y
      said(paper, paper.root, 'P', () => drawText(paper, part, x, at))
      y += part.height
    }
  }
  return { height, gap: 10, draw }
}
