import type { CertificateData, CertificateStanding } from '#core/certificate.ts'
import { certificateNotes, certificatePeople, standingLines } from '#core/certificate-lines.ts'
import { HEADINGS, passLine, plainLine, statementOfRule } from '#core/certificate-words.ts'
import { twoDaysInWords } from '#core/days-in-words.ts'
import { footBlock, tailBlock } from '#server/features/certificates/document-end.ts'
import { factBlocks } from '#server/features/certificates/document-facts.ts'
import type { Layout } from '#server/features/certificates/document-layout.ts'
import { tableBlocks } from '#server/features/certificates/document-table.ts'
import type { Seal } from '#server/features/certificates/seal.ts'
import { closePaper, forTheEye, openPaper, PAPER_INKS, type Paper, rule, type SheetName, said } from '#server/plugins/paper.ts'
import { type Block, type PageFrame, pagesNeeded, setPages, textBlock } from '#server/plugins/paper-pages.ts'
import { drawText, layText, textWidth } from '#server/plugins/paper-text.ts'

const MARGIN = { A4: { x: 39, top: 32, bottom: 30 }, Letter: { x: 41, top: 26, bottom: 24 } } as const
const SIZES = {
  ordinary: { body: 10.4, small: 9.5, drawing: 150 },
  tight: { body: 9.8, small: 8.9, drawing: 124 },
} as const
const MOST_PASSES_ABOVE = 3

/**
 * The certificate as a PDF: one page for ordinary content, set a little tighter where that saves a page; more pages
 * where passes or notes are many. The same data, seal, paper and standing give the same bytes on any machine, day or zone.
 * `standing` is for a copy printed after the sheet was replaced or voided; the first print has none.
 */
export async function renderCertificate(
  data: CertificateData,
  seal: Seal,
  sheet: SheetName,
  standing: CertificateStanding = {},
): Promise<Buffer> {
  const title = `${HEADINGS[data.heading]} ${data.number}`
  const paper = openPaper({ title, author: data.shop.name, madeOn: data.issuedOn, size: sheet })
  const margin = MARGIN[sheet]
  const settings = (sizes: (typeof SIZES)[keyof typeof SIZES]) => {
    const layout: Layout = { left: margin.x, width: paper.width - 2 * margin.x, ...sizes }
    const head = laidHead(paper, layout, data)
    const frame: PageFrame = {
      firstTop: margin.top + head.height + 10,
      top: margin.top + 30,
      bottom: paper.height - margin.bottom,
      head: (page, pages) => (page === 1 ? head.draw(margin.top, pages) : drawNextHead(paper, layout, data, margin.top, page, pages)),
      foot: footBlock(paper, layout, data, seal),
    }
    return { frame, blocks: bodyBlocks(paper, layout, data, standing) }
  }
  const ordinary = settings(SIZES.ordinary)
  const pages = pagesNeeded(ordinary.blocks, ordinary.frame)
  const tight = pages > 1 ? settings(SIZES.tight) : ordinary
  const { blocks, frame } = pagesNeeded(tight.blocks, tight.frame) < pages ? tight : ordinary
  setPages(paper, blocks, frame)
  return closePaper(paper)
}

function bodyBlocks(paper: Paper, layout: Layout, data: CertificateData, standing: CertificateStanding): Block[] {
  const { left, width, body, small } = layout
  const barred = (text: string, gap: number, style: { size: number; face: 'text' | 'strong' }) => {
    const laid = layText(paper, text, width - 12, { ...style, leading: 1.3 })
    return textBlock(paper, paper.root, laid, left + 12, gap, 'P', (y, height) => bar(paper, left, y, height))
  }
  const passes = data.passes.map((pass) => barred(passLine(pass), 8, { size: body, face: 'text' }))
  return [
    ...standingLines(data, standing).map((line, index) => barred(line, index === 0 ? 9 : 4, { size: 12.5, face: 'strong' })),
    textBlock(paper, paper.root, layText(paper, plainLine(data), width, { size: 13.4, face: 'strong', leading: 1.3 }), left, 9),
    ...factBlocks(paper, layout, data),
    ...(data.passes.length <= MOST_PASSES_ABOVE ? passes : []),
    ...tableBlocks(paper, layout, data),
    // Many passes must not push the figures off the first page.
    ...(data.passes.length > MOST_PASSES_ABOVE ? passes : []),
    textBlock(
      paper,
      paper.root,
      layText(paper, [statementOfRule(data), ...certificateNotes(data)].join(' '), width, { size: small, leading: 1.32 }),
      left,
      8,
    ),
    ...tailBlock(paper, layout, data, certificatePeople(data)),
  ]
}

/** The head of the first page; a long name or address of the shop makes it taller. */
function laidHead(
  paper: Paper,
  { left, width, body }: Layout,
  data: CertificateData,
): { height: number; draw(top: number, pages: number): void } {
  const dayWords = (pages: number) => `${twoDaysInWords('measured', data.measuredOn, 'issued', data.issuedOn)} · page 1 of ${pages}`
  const dayWidth = textWidth(paper, dayWords(10), { size: body })
  const number = layText(paper, [{ text: 'No. ' }, { text: data.number, face: 'figure' }], 150, { size: 15.5 })
  const heading = layText(paper, HEADINGS[data.heading], width - 160, { size: 24, face: 'strong', leading: 1.1 })
  const address = data.shop.address.trim().replace(/\s*\n\s*/g, ', ')
  const shop = layText(paper, [data.shop.name, address].filter(Boolean).join(' · '), width - dayWidth - 24, {
    size: body,
    ink: 'soft',
    leading: 1.25,
  })
  const height = 28 + shop.height + 12
  const draw = (top: number, pages: number) => {
    const days = layText(paper, dayWords(pages), dayWidth + 2, { size: body, ink: 'soft', leading: 1.25 })
    said(paper, paper.root, 'H1', () => drawText(paper, heading, left, top))
    said(paper, paper.root, 'P', () => drawText(paper, shop, left, top + 28))
    said(paper, paper.root, 'P', () => drawText(paper, number, left + width - 150, top + 3, 'right'))
    said(paper, paper.root, 'P', () => drawText(paper, days, left + width - dayWidth - 2, top + 28, 'right'))
    rule(paper, left, top + height - 1, width, { weight: 2.25 })
  }
  return { height, draw }
}

function drawNextHead(paper: Paper, { left, width, body }: Layout, data: CertificateData, top: number, page: number, pages: number): void {
  const words = layText(
    paper,
    [
      { text: `${HEADINGS[data.heading]} No. `, face: 'strong' },
      { text: data.number, face: 'figure' },
      { text: ` · crank ${data.crank.tag}` },
    ],
    width - 80,
    { size: body },
  )
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
