import { dayInWords } from '#core/days-in-words.ts'
import { closePaper, forTheEye, openPaper, PAPER_INKS, type Paper, rule, type SheetName, said } from '#server/plugins/paper.ts'
import { paintDrawing } from '#server/plugins/paper-drawing.ts'
import { type Block, setPages, textBlock } from '#server/plugins/paper-pages.ts'
import { qrDrawing } from '#server/plugins/paper-qr.ts'
import { drawLineAt, drawText, layText, textWidth } from '#server/plugins/paper-text.ts'

/** What the customer takes home when a crank is booked in. Sums of money come as words, with their currency. */
export interface ReceiptData {
  sheet: SheetName
  shop: { name: string; address: string }
  tag: string
  /** YYYY-MM-DD in the shop's zone. */
  bookedOn: string
  takenInBy: string
  customer: { name: string; reach: string[] }
  /** Maker, code and number of engine or crank. */
  crank: string
  /** What they want: "rebuild, kit by us". */
  wish: string
  whyNow: string
  hours: string
  cameWith: string[]
  /** Damage and wear seen on arrival; empty when nothing was seen. */
  condition: string[]
  conditionNote?: string
  wantedOn?: string
  promisedOn?: string
  goesBy: 'counter' | 'carrier'
  oldPartsBack: boolean
  /** The fee for looking it over and the yes to it, if one was given. */
  fee: { amount: string; yes?: { by: string; how: string } }
  deposit?: string
  /** The shop's rule on cranks that are not fetched. */
  storageRule: string
  /** Secret address of the customer's page. */
  pageUrl?: string
}

const MARGIN = 45
const BODY = 11
const SMALL = 9.8
const QR_SIZE = 82
const NOTHING_PARTED = 'Nothing is pressed apart before you have said yes to a price. What we find may change it; then we ask again.'

/** The receipt: what came in, in what state, what was promised and by which rules. The same data give the same bytes. */
export async function renderReceipt(data: ReceiptData): Promise<Buffer> {
  const paper = openPaper({ title: `Receipt ${data.tag}`, author: data.shop.name, madeOn: data.bookedOn, size: data.sheet })
  const width = paper.width - 2 * MARGIN
  const tagWidth = textWidth(paper, data.tag, { size: 30, face: 'strong-figure' })
  const shop = layText(
    paper,
    [data.shop.name, data.shop.address.trim().replace(/\s*\n\s*/g, ', ')].filter(Boolean).join(' · '),
    width - tagWidth - 24,
    { size: BODY, ink: 'soft' },
  )
  const headHeight = 30 + shop.height + 10
  setPages(paper, bodyBlocks(paper, width, data), {
    firstTop: 36 + headHeight + 12,
    top: 36 + 32,
    bottom: paper.height - 34,
    head(page, pages) {
      if (page > 1) return nextHead(paper, width, data, page, pages)
      said(paper, paper.root, 'H1', () =>
        drawText(paper, layText(paper, 'Receipt for a crank', width - 120, { size: 24, face: 'strong', leading: 1.1 }), MARGIN, 36),
      )
      said(paper, paper.root, 'P', () => drawText(paper, shop, MARGIN, 36 + 30))
      said(paper, paper.root, 'P', () => drawLineAt(paper, data.tag, MARGIN + width, 36 + 26, { size: 30, face: 'strong-figure' }, 'end'))
      rule(paper, MARGIN, 36 + headHeight, width, { weight: 2.25 })
    },
    foot: signBlock(paper, width, data),
  })
  return closePaper(paper)
}

function nextHead(paper: Paper, width: number, data: ReceiptData, page: number, pages: number): void {
  forTheEye(paper, () => {
    drawLineAt(paper, `Receipt for crank ${data.tag}`, MARGIN, 48, { size: BODY, face: 'strong' })
    drawLineAt(paper, `page ${page} of ${pages}`, MARGIN + width, 48, { size: BODY, ink: 'soft' }, 'end')
  })
  rule(paper, MARGIN, 56, width, { weight: 1.5 })
}

function bodyBlocks(paper: Paper, width: number, data: ReceiptData): Block[] {
  const facts: [string, string][] = [
    ['Booked in', `${dayInWords(data.bookedOn)}, taken in by ${data.takenInBy}`],
    ['From', [data.customer.name, ...data.customer.reach].join(', ')],
    ['Crank', data.crank],
    ['Wanted', data.wish],
    ['Why now', data.whyNow],
    ['Hours on it', data.hours],
    ['Promised', promiseWords(data)],
    [
      'Goes back',
      `${data.goesBy === 'counter' ? 'fetched at the counter' : 'by carrier'}${data.oldPartsBack ? ', old parts with it' : ', old parts stay here'}`,
    ],
    ['Looking it over', feeWords(data)],
    ...(data.deposit ? [['Deposit taken', data.deposit] as [string, string]] : []),
  ]
  const text = (words: string, gap: number, size = BODY) =>
    textBlock(paper, paper.root, layText(paper, words, width, { size }), MARGIN, gap)
  const heading = (words: string) =>
    textBlock(paper, paper.root, layText(paper, words, width, { size: 12.5, face: 'strong' }), MARGIN, 12, 'H2')
  return [
    ...facts.map(([name, says]) => factBlock(paper, width, name, says)),
    heading('What came with it'),
    ...(data.cameWith.length > 0 ? [listBlock(paper, width, data.cameWith)] : [text('Nothing but the crank itself.', 2)]),
    heading('What we saw on arrival'),
    ...(data.condition.length > 0 ? [listBlock(paper, width, data.condition)] : []),
    ...(data.conditionNote ? [text(data.conditionNote, 3)] : []),
    ...(data.condition.length === 0 && !data.conditionNote ? [text('No damage seen from outside.', 2)] : []),
    heading('How we work'),
    text(NOTHING_PARTED, 2),
    ...(data.storageRule.trim() ? [text(data.storageRule, 4)] : []),
  ]
}

function promiseWords(data: ReceiptData): string {
  const promised = data.promisedOn ? dayInWords(data.promisedOn) : 'no day yet; we tell you once kit and price are settled'
  return data.wantedOn ? `${promised} (wanted ${dayInWords(data.wantedOn)})` : promised
}

function feeWords({ fee }: ReceiptData): string {
  const yes = fee.yes ? `yes by ${fee.yes.by}, ${fee.yes.how}` : 'no yes yet'
  return `${fee.amount}, due even where nothing can be done; ${yes}`
}

function factBlock(paper: Paper, width: number, name: string, says: string): Block {
  const label = layText(paper, name, 92, { size: BODY, ink: 'soft' })
  const value = layText(paper, says, width - 100, { size: BODY })
  return {
    height: Math.max(label.height, value.height),
    gap: 3,
    draw(y) {
      said(paper, paper.root, 'P', () => {
        drawText(paper, label, MARGIN, y)
        drawText(paper, value, MARGIN + 100, y)
      })
    },
  }
}

/** Short things in three columns, each with its ticked square. */
function listBlock(paper: Paper, width: number, items: string[]): Block {
  const column = width / 3
  const laid = items.map((item) => layText(paper, item, column - 24, { size: BODY, leading: 1.25 }))
  const rows = Array.from(
    { length: Math.ceil(items.length / 3) },
    (_, row) => Math.max(...laid.slice(row * 3, row * 3 + 3).map((one) => one.height)) + 4,
  )
  const draw = (top: number) => {
    let y = top
    for (const [row, height] of rows.entries()) {
      for (const [index, one] of laid.slice(row * 3, row * 3 + 3).entries()) {
        const x = MARGIN + index * column
        const at = y
        forTheEye(paper, () => {
          paper.doc
            .lineWidth(0.8)
            .strokeColor(PAPER_INKS.ink)
            .rect(x, at + 2.5, 8, 8)
            .stroke()
          paper.doc
            .lineWidth(1.4)
            .path(`M${x + 1.6} ${at + 6.6}l2 2.4l3.4 -5`)
            .stroke()
        })
        said(paper, paper.root, 'P', () => drawText(paper, one, x + 14, at))
      }
      y += height
    }
  }
  return { height: rows.reduce((sum, height) => sum + height, 0), gap: 3, draw }
}

/** Two lines to sign on, and where to see how it gets on. */
function signBlock(paper: Paper, width: number, data: ReceiptData): Block {
  const height = 44 + (data.pageUrl ? QR_SIZE + 8 : 18)
  const half = (width - 30) / 2
  const draw = (top: number) => {
    for (const [index, who] of ['for the shop', data.fee.yes ? 'brought in by, with a yes to the fee' : 'brought in by'].entries()) {
      const x = MARGIN + index * (half + 30)
      rule(paper, x, top + 24, half)
      said(paper, paper.root, 'P', () => drawLineAt(paper, who, x, top + 35, { size: SMALL, ink: 'soft' }))
    }
    if (!data.pageUrl) return
    const { pageUrl } = data
    paintDrawing(
      paper,
      paper.root,
      qrDrawing(pageUrl, QR_SIZE, `Code to scan, leading to the page of crank ${data.tag}`),
      MARGIN - 8,
      top + 48,
    )
    const words = layText(
      paper,
      `See where it is, say yes and ask us, without signing in: scan the code. Keep it to yourself; whoever has it sees this crank.`,
      width - QR_SIZE - 16,
      { size: BODY },
    )
    said(paper, paper.root, 'P', () => drawText(paper, words, MARGIN + QR_SIZE + 4, top + 48 + (QR_SIZE - words.height) / 2))
  }
  return { height, gap: 14, draw }
}
