import type { CertificateData } from '#core/certificate.ts'
import { certificateFacts } from '#core/certificate-lines.ts'
import { drawCrank } from '#core/crank-drawing.ts'
import type { Drawing } from '#core/marks.ts'
import type { Layout } from '#server/features/certificates/document-layout.ts'
import { type Paper, said } from '#server/plugins/paper.ts'
import { paintDrawing } from '#server/plugins/paper-drawing.ts'
import { type Block, textBlock } from '#server/plugins/paper-pages.ts'
import { drawText, type LaidText, layText } from '#server/plugins/paper-text.ts'

const NAME_WIDTH = 66
const GUTTER = 20
const MOST_BESIDE = 190

interface LaidFact {
  name: LaidText
  says: LaidText
  height: number
}

/** The facts of the crank beside its drawing; under it where they are long; in two columns where nothing can be drawn. */
export function factBlocks(paper: Paper, layout: Layout, data: CertificateData): Block[] {
  const { left, width } = layout
  const column = width * 0.46
  const drawing = crankDrawing(data, width - column - GUTTER, layout.drawing)
  const narrow = laidFacts(paper, layout, data, column)
  if (!drawing) return twoColumns(paper, layout, laidFacts(paper, layout, data, (width - GUTTER) / 2))
  if (heightOf(narrow) <= MOST_BESIDE) {
    const height = Math.max(heightOf(narrow), drawing.height)
    const draw = (y: number) => {
      drawFacts(paper, narrow, left, y)
      paintDrawing(paper, paper.root, drawing, left + column + GUTTER, y + (height - drawing.height) / 2)
    }
    return [{ height, gap: 9, draw }]
  }
  const wide = crankDrawing(data, width, layout.drawing * 0.9) ?? drawing
  return [
    { height: wide.height, gap: 9, draw: (y) => paintDrawing(paper, paper.root, wide, left, y) },
    ...certificateFacts(data).map((fact) =>
      textBlock(
        paper,
        paper.root,
        layText(paper, [{ text: `${fact.name}: `, ink: 'soft' }, { text: fact.says }], width, { size: layout.body }),
        left,
        3,
      ),
    ),
  ]
}

function crankDrawing(data: CertificateData, width: number, maxHeight: number): Drawing | undefined {
  if (!data.shape) return undefined
  const { held, left, right } = data.setup
  return drawCrank({ ...data.shape, left, right }, { held, width, maxHeight, text: 9.5, spans: true })
}

function laidFacts(paper: Paper, { body }: Layout, data: CertificateData, width: number): LaidFact[] {
  return certificateFacts(data).map((fact) => {
    const name = layText(paper, fact.name, NAME_WIDTH - 6, { size: body, ink: 'soft', leading: 1.28 })
    const says = layText(paper, fact.says, width - NAME_WIDTH, { size: body, leading: 1.28 })
    return { name, says, height: Math.max(name.height, says.height) + 2 }
  })
}

function heightOf(facts: readonly LaidFact[]): number {
  return facts.reduce((sum, fact) => sum + fact.height, 0)
}

function drawFacts(paper: Paper, facts: readonly LaidFact[], x: number, top: number): void {
  let y = top
  for (const fact of facts) {
    const at = y
    said(paper, paper.root, 'P', () => {
      drawText(paper, fact.name, x, at)
      drawText(paper, fact.says, x + NAME_WIDTH, at)
    })
    y += fact.height
  }
}

function twoColumns(paper: Paper, { left, width }: Layout, facts: LaidFact[]): Block[] {
  const half = Math.ceil(facts.length / 2)
  const columns = [facts.slice(0, half), facts.slice(half)]
  const draw = (y: number) => {
    for (const [index, column] of columns.entries()) drawFacts(paper, column, left + index * ((width + GUTTER) / 2), y)
  }
  return [{ height: Math.max(...columns.map(heightOf)), gap: 9, draw }]
}
