import { CAUTIONS, RULES_FIRST } from '#core/cautions.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { endMark } from '#core/end-mark.ts'
import { type BenchSheetData, type BoxRow, benchSections, type SheetSection } from '#server/features/jobs/bench-sheet-sections.ts'
import { closePaper, forTheEye, holder, openPaper, PAPER_INKS, type Paper, rule, said } from '#server/plugins/paper.ts'
import { paintMarks } from '#server/plugins/paper-drawing.ts'
import { type Block, setPages, textBlock } from '#server/plugins/paper-pages.ts'
import { drawLineAt, drawText, layText } from '#server/plugins/paper-text.ts'

const MARGIN = 36
const TOP = 30
const BODY = 11
const SMALL = 9.4
const NAMES_WIDTH = 150
/** A box is 11 mm high, room enough for a pencil in a glove. */
const BOX_HEIGHT = 31
const MOVE_HEIGHT = 25
const MOST_BOX_WIDTH = 96

/** The sheet for the bench when the book is out of reach: every reading has its box, every step its caution. */
export async function renderBenchSheet(data: BenchSheetData): Promise<Buffer> {
  const paper = openPaper({ title: `Bench sheet ${data.tag}`, author: data.shop, madeOn: data.printedOn, size: data.sheet })
  const width = paper.width - 2 * MARGIN
  const crank = layText(
    paper,
    [data.crank, data.welded ? 'welded' : '', data.cycle === '2T' ? 'two-stroke' : 'four-stroke'].filter(Boolean).join(' · '),
    width - 150,
    { size: BODY, ink: 'soft' },
  )
  const headHeight = 28 + crank.height + 8
  setPages(paper, [...introBlocks(paper, width, data), ...benchSections(data).flatMap((section) => sectionBlocks(paper, width, section))], {
    firstTop: TOP + headHeight + 8,
    top: TOP + 28,
    bottom: paper.height - 28,
    head(page, pages) {
      if (page > 1) return nextHead(paper, width, data, page, pages)
      said(paper, paper.root, 'H1', () =>
        drawText(paper, layText(paper, 'Bench sheet', width - 150, { size: 22, face: 'strong', leading: 1.1 }), MARGIN, TOP),
      )
      said(paper, paper.root, 'P', () => drawText(paper, crank, MARGIN, TOP + 28))
      said(paper, paper.root, 'P', () => drawLineAt(paper, data.tag, MARGIN + width, TOP + 24, { size: 30, face: 'strong-figure' }, 'end'))
      said(paper, paper.root, 'P', () =>
        drawLineAt(paper, `page 1 of ${pages}`, MARGIN + width, TOP + 28 + BODY, { size: SMALL, ink: 'soft' }, 'end'),
      )
      rule(paper, MARGIN, TOP + headHeight, width, { weight: 2.25 })
    },
  })
  return closePaper(paper)
}

function nextHead(paper: Paper, width: number, data: BenchSheetData, page: number, pages: number): void {
  forTheEye(paper, () => {
    drawLineAt(paper, [{ text: 'Bench sheet ' }, { text: data.tag, face: 'strong-figure' }], MARGIN, TOP + 12, {
      size: BODY + 2,
      face: 'strong',
    })
    drawLineAt(paper, `page ${page} of ${pages}`, MARGIN + width, TOP + 12, { size: SMALL, ink: 'soft' }, 'end')
  })
  rule(paper, MARGIN, TOP + 18, width, { weight: 1.5 })
}

function introBlocks(paper: Paper, width: number, data: BenchSheetData): Block[] {
  const promised = data.promisedOn ? `Promised ${dayInWords(data.promisedOn)}. ` : ''
  const asked = data.remarks.length > 0 ? `To know: ${data.remarks.join('; ')}. ` : ''
  const words = `${promised}${asked}Printed ${dayInWords(data.printedOn)}. Name, day and time beside each part. Where a box stays empty, write why; strike out and write again, rub nothing out. Key it in once the book is back; until then the sheet lies with the crank.`
  return [
    textBlock(paper, paper.root, layText(paper, words, width, { size: BODY, leading: 1.25 }), MARGIN, 0),
    textBlock(paper, paper.root, layText(paper, RULES_FIRST, width, { size: BODY, face: 'strong' }), MARGIN, 3),
  ]
}

/** Title, cautions and first row stay together; the other rows may go to the next page. */
function sectionBlocks(paper: Paper, width: number, section: SheetSection): Block[] {
  const title = layText(paper, section.title, width, { size: 13.5, face: 'strong', leading: 1.25 })
  const say = section.say.length > 0 ? [layText(paper, section.say.join(' '), width, { size: SMALL, leading: 1.25 })] : []
  const cautions = section.hazards.map((hazard) =>
    layText(paper, CAUTIONS[hazard], width - 10, { size: SMALL, face: 'strong', leading: 1.25 }),
  )
  const headHeight = title.height + [...say, ...cautions].reduce((sum, laid) => sum + laid.height, 0) + 4
  let table: PDFKit.PDFStructureElement | undefined
  const within = () => {
    table ??= holder(paper, paper.root, 'Table')
    return table
  }
  const rows = [...moveBlocks(paper, width, section.moves ?? 0, within), ...section.rows.map((row) => rowBlock(paper, width, row, within))]
  const first = rows[0]
  const draw = (top: number) => {
    said(paper, paper.root, 'H2', () => drawText(paper, title, MARGIN, top))
    let y = top + title.height
    for (const laid of cautions) {
      const at = y
      forTheEye(paper, () => paper.doc.rect(MARGIN, at + 1, 2.5, laid.height - 2).fill(PAPER_INKS.ink))
      said(paper, paper.root, 'P', () => drawText(paper, laid, MARGIN + 10, at))
      y += laid.height
    }
    for (const laid of say) {
      const at = y
      said(paper, paper.root, 'P', () => drawText(paper, laid, MARGIN, at))
      y += laid.height
    }
    first?.draw(top + headHeight)
  }
  return [{ height: headHeight + (first?.height ?? 0), gap: 9, draw }, ...rows.slice(1)]
}

function rowBlock(paper: Paper, width: number, row: BoxRow, within: () => PDFKit.PDFStructureElement): Block {
  const indent = row.end ? 14 : 0
  const what = layText(paper, row.what, NAMES_WIDTH - indent - 6, { size: BODY, leading: 1.2 })
  const window = row.window ? [layText(paper, row.window, NAMES_WIDTH - indent - 6, { size: SMALL, ink: 'soft', leading: 1.2 })] : []
  const namesHeight = what.height + (window[0]?.height ?? 0)
  const height = Math.max(BOX_HEIGHT, namesHeight + 3) + 4
  const boxWidth = Math.min(MOST_BOX_WIDTH, (width - NAMES_WIDTH) / row.boxes.length)
  // Few boxes have long words in them: they get the whole room.
  const wide = row.boxes.length <= 3 ? (width - NAMES_WIDTH) / row.boxes.length : boxWidth
  const draw = (y: number) => {
    const line = holder(paper, within(), 'TR')
    if (row.end) {
      const { end } = row
      forTheEye(paper, () => paintMarks(paper, [endMark(MARGIN + 5, y + BODY * 0.66, end === 'left', 4.2)], 0, 0))
    }
    said(
      paper,
      line,
      'TH',
      () => {
        drawText(paper, what, MARGIN + indent, y)
        for (const laid of window) drawText(paper, laid, MARGIN + indent, y + what.height)
      },
      { scope: 'Row' },
    )
    for (const [index, label] of row.boxes.entries())
      emptyBox(paper, line, MARGIN + NAMES_WIDTH + index * wide, y, wide - 4, BOX_HEIGHT, label)
  }
  return { height, gap: 1, draw }
}

/** The truing log: what was done, and both ends read again after it. */
function moveBlocks(paper: Paper, width: number, count: number, within: () => PDFKit.PDFStructureElement): Block[] {
  const done = width * 0.26
  const each = (width - done) / 8
  return Array.from({ length: count }, (_, number) => ({
    height: MOVE_HEIGHT + (number === 0 ? 15 : 0),
    gap: 0,
    draw(top: number) {
      const line = holder(paper, within(), 'TR')
      const y = number === 0 ? top + 15 : top
      if (number === 0) {
        forTheEye(paper, () => {
          paintMarks(paper, [endMark(MARGIN + done + 5, top + 7, true, 4), endMark(MARGIN + done + 4 * each + 5, top + 7, false, 4)], 0, 0)
          drawLineAt(paper, 'left', MARGIN + done + 13, top + 10.5, { size: SMALL })
          drawLineAt(paper, 'right', MARGIN + done + 4 * each + 13, top + 10.5, { size: SMALL })
        })
      }
      emptyBox(paper, line, MARGIN, y, done - 3, MOVE_HEIGHT - 3, number === 0 ? 'as it stands' : `move ${number}: what, half, mark`)
      for (let index = 0; index < 8; index++) {
        emptyBox(
          paper,
          line,
          MARGIN + done + index * each,
          y,
          each - (index === 3 ? 6 : 2),
          MOVE_HEIGHT - 3,
          ['12', '3', '6', '9'][index % 4]!,
        )
      }
    },
  }))
}

function emptyBox(paper: Paper, row: PDFKit.PDFStructureElement, x: number, y: number, width: number, height: number, label: string): void {
  forTheEye(paper, () => paper.doc.lineWidth(0.8).strokeColor(PAPER_INKS.edge).rect(x, y, width, height).stroke())
  const laid = layText(paper, label, width - 6, { size: 7.8, ink: 'soft', leading: 1.1 })
  said(paper, row, 'TD', () => drawText(paper, laid, x + 3, y + 1.5))
}
