import { nextPage, type Paper, said } from '#server/plugins/paper.ts'
import { drawText, type LaidText, splitText } from '#server/plugins/paper-text.ts'

/** A part of a sheet that is measured first and drawn once its place is known. */
export interface Block {
  height: number
  /** White above it, left out at the head of a page. */
  gap: number
  draw(y: number): void
  /** The part that fits into a height and the rest; a block without it goes to the next page whole. */
  split?(height: number): [Block, Block] | null
}

export interface PageFrame {
  /** Where blocks begin on the first page and on those after it. */
  firstTop: number
  top: number
  bottom: number
  /** Draws the head of a page before its blocks. */
  head(page: number, pages: number): void
  /** Stands at the foot of the first page. */
  foot?: Block
}

interface Placed {
  block: Block
  y: number
}

/** Spreads blocks over as many pages as they need and draws them; answers how many there were. */
export function setPages(paper: Paper, blocks: readonly Block[], frame: PageFrame): number {
  const pages = spread(blocks, frame)
  for (const [index, placed] of pages.entries()) {
    if (index > 0) nextPage(paper)
    frame.head(index + 1, pages.length)
    for (const { block, y } of placed) block.draw(y)
  }
  return pages.length
}

/** How many pages blocks will need, without drawing anything. */
export function pagesNeeded(blocks: readonly Block[], frame: PageFrame): number {
  return spread(blocks, frame).length
}

function spread(blocks: readonly Block[], frame: PageFrame): Placed[][] {
  const pages: Placed[][] = [[]]
  const { foot } = frame
  let y = frame.firstTop
  let bottom = foot ? frame.bottom - foot.height - foot.gap : frame.bottom
  const turn = () => {
    pages.push([])
    y = frame.top
    bottom = frame.bottom
  }
  const waiting = [...blocks]
  for (let block = waiting.shift(); block; block = waiting.shift()) {
    const page = pages.at(-1)!
    const from = page.length === 0 ? y : y + block.gap
    if (from + block.height <= bottom + 0.01) {
      page.push({ block, y: from })
      y = from + block.height
      continue
    }
    const parts = block.split?.(bottom - from)
    if (parts) {
      page.push({ block: parts[0], y: from })
      waiting.unshift(parts[1])
      turn()
    } else if (page.length > 0) {
      waiting.unshift(block)
      turn()
    } else {
      // Taller than a page and not to be parted: drawn all the same, as a sheet that leaves something out is worse.
      page.push({ block, y: from })
      turn()
    }
  }
  if (pages.length > 1 && pages.at(-1)!.length === 0) pages.pop()
  if (foot) pages[0]!.push({ block: foot, y: frame.bottom - foot.height })
  return pages
}

/** Text as a block that may be parted between its lines. */
export function textBlock(
  paper: Paper,
  parent: PDFKit.PDFStructureElement,
  laid: LaidText,
  x: number,
  gap: number,
  kind = 'P',
  beside?: (y: number, height: number) => void,
): Block {
  return {
    height: laid.height,
    gap,
    draw(y) {
      beside?.(y, laid.height)
      said(paper, parent, kind, () => drawText(paper, laid, x, y))
    },
    split(height) {
      const parts = splitText(laid, height)
      return parts
        ? [textBlock(paper, parent, parts[0], x, gap, kind, beside), textBlock(paper, parent, parts[1], x, 0, kind, beside)]
        : null
    },
  }
}
