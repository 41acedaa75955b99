import type { CertificateData, CertificateStanding } from '#core/certificate.ts'
import { certificateNotes, certificatePeople, standingLines } from '#core/certificate-lines.ts'
import { HEADINGS, passLine, plainLine, statementOfRule } from '#core/certificate-words.ts'
import { twoDaysInWords } from '#core/days-in-words.ts'
import { footBlock, tailBlock } from '#server/features/certificates/document-end.ts'
import { factBlocks } from '#server/features/certificates/document-facts.ts'
import { tableBlocks } from '#server/features/certificates/document-table.ts'
import type { Seal } from '#server/features/certificates/seal.ts'
import { closePaper, forTheEye, openPaper, PAPER_INKS, type Paper, rule, said, type SheetName } from '#server/plugins/paper.ts'
import { type Block, setPages, textBlock } from '#server/plugins/paper-pages.ts'
import { drawText, layText } from '#server/plugins/paper-text.ts'

/** Measures of the sheet in points, shared by its parts. */
export interface Layout {
  left: number
  width: number
  body: number
  small: number
}

const MARGIN = { A4: { x: 39, top: 32, bottom: 30 }, Letter: { x: 41, top: 26, bottom: 24 } } as const

/**
 * The certificate as a PDF: one page for ordinary content, more where passes or notes are many. The same data, seal, paper
 * and standing give the same bytes on any machine, day or zone. `standing` is for a copy printed after the sheet was
 * replaced or voided; the first print has none.
 */
export async function renderCertificate(data: CertificateData, seal: Seal, sheet: SheetName, standing: CertificateStanding = {}): Promise<Buffer> {
  const title = `${HEADINGS[data.heading]} ${data.number}`
  const paper = openPaper({ title, author: data.shop.name, madeOn: data.issuedOn, size: sheet })
  const margin = MARGIN[sheet]
  const layout: Layout = { left: margin.x, width: paper.width - 2 * margin.x, body: sheet === 'A4' ? 10.4 : 10.2, small: sheet === 'A4' ? 9.5 : 9.3 }
  setPages(paper, bodyBlocks(paper, layout, data, standing), {
    firstTop: margin.top + 58,
    top: margin.top + 32,
    bottom: paper.height - margin.bottom,
    head: (page, pages) => (page === 1 ? firstHead(paper, layout, data, margin.top, pages) : nextHead(paper, layout, data, margin.top, page, pages)),
    foot: footBlock(paper, layout, data, seal),
  })
  return closePaper(paper)
}

function bodyBlocks(paper: Paper, layout: Layout, data: CertificateData, standing: CertificateStanding): Block[] {
  const { left, width, body, small } = layout
  const barred = (text: string, gap: number, style: { size: number; face: 'text' | 'strong' }) => {
    const laid = layText(paper, text, width - 12, { ...style, leading: 1.3 })
    return textBlock(paper, paper.root, laid, left + 12, gap, 'P', (y, height) => bar(paper, left, y, height))
  }
  return [
    ...standingLines(data, standing).map((line, index) => barred(line, index === 0 ? 9 : 4, { size: 12.5, face: 'strong' })),
    textBlock(paper, paper.root, layText(paper, plainLine(data), width, { size: 13.4, face: 'strong', leading: 1.3 }), left, 9),
    ...factBlocks(paper, layout, data),
    ...data.passes.map((pass) => barred(passLine(pass), 8, { size: body, face: 'text' })),
    ...tableBlocks(paper, layout, data),
    textBlock(paper, paper.root, layText(paper, [statementOfRule(data), ...certificateNotes(data)].join(' '), width, { size: small, leading: 1.32 }), left, 8),
    ...tailBlock(paper, layout, data, certificatePeople(data)),
  ]
}

function firstHead(paper: Paper, { left, width, body }: Layout, data: CertificateData, top: number, pages: number): void {
  const number = layText(paper, [{ text: 'No. ' }, { text: data.number, face: 'figure' }], 150, { size: 15.5 })
  const days = layText(paper, `${twoDaysInWords('measured', data.measuredOn, 'issued', data.issuedOn)} · page 1 of ${pages}`, 290, { size: body, ink: 'soft' })
  const heading = layText(paper, HEADINGS[data.heading], width - 160, { size: 24, face: 'strong', leading: 1.1 })
  const shop = layText(paper, data.shop.address ? `${data.shop.name} · ${data.shop.address.replace(/\s*\n\s*/g, ', ')}` : data.shop.name, width - 300, { size: body, ink: 'soft', leading: 1.2 })
  said(paper, paper.root, 'H1', () => drawText(paper, heading, left, top))
  said(paper, paper.root, 'P', () => drawText(paper, { ...shop, lines: shop.lines.slice(0, 2) }, left, top + 28))
  said(paper, paper.root, 'P', () => drawText(paper, number, left + width - 150, top + 3, 'right'))
  said(paper, paper.root, 'P', () => drawText(paper, days, left + width - 290, top + 27, 'right'))
  rule(paper, left, top + 56, width, { weight: 2.25 })
}

function nextHead(paper: Paper, { left, width, body }: Layout, data: CertificateData, top: number, page: number, pages: number): void {
  const words = layText(paper, [{ text: `${HEADINGS[data.heading]} No. `, face: 'strong' }, { text: data.number, face: 'figure' }, { text: ` · crank ${data.crank.tag}` }], width - 80, { size: body })
  const count = layText(paper, `page ${page} of ${pages}`, 80, { size: body, ink: 'soft' })
  forTheEye(paper, () => {
    drawText(paper, words, left, top)
    drawText(paper, count, left + width - 80, top, 'right')
  })
  rule(paper, left, top + 18, width, { weight: 1.5 })
}

/** The heavy bar beside what must not be overlooked. */
function bar(paper: Paper, x: number, y: number, height: number): void {
  forTheEye(paper, () => paper.doc.rect(x, y, 3, height).fill(PAPER_INKS.ink))
}
