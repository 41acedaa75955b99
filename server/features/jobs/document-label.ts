import { dayInWords } from '#core/days-in-words.ts'
import { closePaper, MM, openPaper, said } from '#server/plugins/paper.ts'
import { paintDrawing } from '#server/plugins/paper-drawing.ts'
import { qrDrawing } from '#server/plugins/paper-qr.ts'
import { drawLineAt, drawText, layText, splitText, type TextStyle, textWidth } from '#server/plugins/paper-text.ts'

/** What a tag label says. */
export interface LabelData {
  tag: string
  /** What the code holds: the address of the job, or the tag alone. */
  code: string
  /** Maker and code of the engine. */
  crank: string
  shop: string
  /** YYYY-MM-DD */
  bookedOn: string
}

const WIDTH_MM = 62
const HEIGHT_MM = 29
const QR_MM = 26
const EDGE_MM = 1.5

/** A label of 62 × 29 mm for a label printer: a code to scan and the tag as large as it will go. One page, black on white. */
export async function renderLabel(data: LabelData): Promise<Buffer> {
  const paper = openPaper({
    title: `Tag ${data.tag}`,
    author: data.shop,
    madeOn: data.bookedOn,
    size: { widthMm: WIDTH_MM, heightMm: HEIGHT_MM },
  })
  const edge = EDGE_MM * MM
  const qr = QR_MM * MM
  paintDrawing(paper, paper.root, qrDrawing(data.code, qr, `Code to scan for tag ${data.tag}`), edge, (paper.height - qr) / 2)
  const x = edge + qr + MM
  const room = paper.width - x - 2 * MM

  const tagStyle = (size: number): TextStyle => ({ size, face: 'strong-figure' })
  const size = Math.min(31, 31 * (room / textWidth(paper, data.tag, tagStyle(31))))
  said(paper, paper.root, 'H1', () => drawLineAt(paper, data.tag, x, 10.5 * MM, tagStyle(size)))
  const crank = layText(paper, data.crank, room, { size: 9.6, face: 'strong', leading: 1.15 })
  const [shown] = splitText(crank, crank.lineHeight * 3) ?? [crank]
  said(paper, paper.root, 'P', () => drawText(paper, shown, x, 13 * MM))
  const booked = layText(paper, `in ${dayInWords(data.bookedOn)}`, room, { size: 8.5 })
  said(paper, paper.root, 'P', () => drawText(paper, booked, x, paper.height - 2 * MM - booked.height))
  return closePaper(paper)
}
