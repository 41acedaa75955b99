import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import PDFDocument from 'pdfkit'
import type { Ink } from '#core/marks.ts'

/** Sheets in points, as they stand on paper. */
export const SHEETS = { A4: [595.28, 841.89], Letter: [612, 792] } as const
export type SheetName = keyof typeof SHEETS

/** Faces of the sheet: Barlow Semi Condensed for text, B612 for figures. */
export const FACES = ['text', 'strong', 'figure', 'strong-figure'] as const
export type Face = (typeof FACES)[number]

const require = createRequire(import.meta.url)
const FONT_FILES: Record<Face, string> = {
  text: '@expo-google-fonts/barlow-semi-condensed/500Medium/BarlowSemiCondensed_500Medium.ttf',
  strong: '@expo-google-fonts/barlow-semi-condensed/600SemiBold/BarlowSemiCondensed_600SemiBold.ttf',
  figure: '@fontsource/b612/files/b612-latin-400-normal.woff',
  'strong-figure': '@fontsource/b612/files/b612-latin-700-normal.woff',
}
const fontBytes = new Map<Face, Buffer>()

/** What the inks are on white paper; blue and copper stay on screen, as paper is often printed grey. */
export const PAPER_INKS: Record<Ink, string> = {
  ink: '#16191c',
  soft: '#4a4f53',
  edge: '#767c7a',
  rule: '#c3c9c5',
  hair: '#dfe4e0',
  blue: '#1d3c78',
  'blue-wash': '#e3e9f4',
  copper: '#8a4413',
  over: '#9b0f4a',
  sheet: '#ffffff',
  paper: '#ffffff',
}

export const MM = 72 / 25.4

export interface Paper {
  doc: PDFKit.PDFDocument
  width: number
  height: number
  /** The whole document in the tree of tags; everything said hangs on it in reading order. */
  root: PDFKit.PDFStructureElement
}

export interface PaperOptions {
  title: string
  author: string
  /** Calendar date that stands as the day it was made, so that the same input gives the same bytes. */
  madeOn: string
  size: SheetName | { widthMm: number; heightMm: number }
}

/** A PDF to draw on: tagged, in English, with its title shown and its fonts inside (PDF/A-2b). The first page is open. */
export function openPaper(options: PaperOptions): Paper {
  const [width, height] = typeof options.size === 'string' ? SHEETS[options.size] : [options.size.widthMm * MM, options.size.heightMm * MM]
  const doc = new PDFDocument({
    size: [width, height],
    margin: 0,
    autoFirstPage: false,
    pdfVersion: '1.7',
    subset: 'PDF/A-2b',
    tagged: true,
    lang: 'en-GB',
    displayTitle: true,
    // Anything but nothing here would have the built-in Helvetica named in the file.
    font: '',
    info: {
      Title: options.title,
      Author: options.author,
      Creator: 'Throwbook',
      Producer: 'Throwbook',
      CreationDate: new Date(`${options.madeOn}T12:00:00Z`),
    },
  })
  for (const face of FACES) doc.registerFont(face, bytesOf(face))
  escapeMetadata(doc)
  doc.addPage({ size: [width, height], margin: 0 })
  const root = doc.struct('Document')
  doc.addStructure(root)
  return { doc, width, height, root }
}

/** The finished file. */
export function closePaper(paper: Paper): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = []
    paper.doc.on('data', (chunk: Buffer) => chunks.push(chunk))
    paper.doc.on('end', () => resolve(Buffer.concat(chunks)))
    paper.doc.on('error', reject)
    paper.root.end()
    paper.doc.end()
  })
}

export function nextPage(paper: Paper): void {
  paper.doc.addPage({ size: [paper.width, paper.height], margin: 0 })
}

/** Draws what is said, as one element of the given kind (P, H1, TD …) under its parent. */
export function said(
  paper: Paper,
  parent: PDFKit.PDFStructureElement,
  kind: string,
  draw: () => void,
  options: PDFKit.Mixins.StructureElementOptions & { scope?: string } = {},
): void {
  const content = paper.doc.markStructureContent(kind)
  draw()
  paper.doc.endMarkedContent()
  parent.add(paper.doc.struct(kind, options, [content]))
}

/** An element that only holds others: Table, TR. */
export function holder(paper: Paper, parent: PDFKit.PDFStructureElement, kind: string): PDFKit.PDFStructureElement {
  const element = paper.doc.struct(kind)
  parent.add(element)
  return element
}

/** Draws what is only there for the eye: rules, bars, repeated heads. */
export function forTheEye(paper: Paper, draw: () => void): void {
  paper.doc.markContent('Artifact', { type: 'Layout' })
  draw()
  paper.doc.endMarkedContent()
}

export function rule(paper: Paper, x: number, y: number, width: number, options: { ink?: Ink; weight?: number } = {}): void {
  forTheEye(paper, () => {
    paper.doc
      .lineWidth(options.weight ?? 0.75)
      .strokeColor(PAPER_INKS[options.ink ?? 'ink'])
      .moveTo(x, y)
      .lineTo(x + width, y)
      .stroke()
  })
}

/** pdfkit writes title and author into the XML of the file as they are, where an ampersand in a shop's name would break it. */
function escapeMetadata(doc: PDFKit.PDFDocument): void {
  const inner = doc as unknown as { info: Record<string, unknown>; _addInfo(): void }
  const addInfo = inner._addInfo
  inner._addInfo = () => {
    const { info } = inner
    inner.info = Object.fromEntries(Object.entries(info).map(([name, value]) => [name, typeof value === 'string' ? xmlText(value) : value]))
    addInfo.call(doc)
    inner.info = info
  }
}

function xmlText(text: string): string {
  return text
    .replace(/\p{Cc}/gu, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
}

function bytesOf(face: Face): Buffer {
  const known = fontBytes.get(face)
  if (known) return known
  const bytes = readFileSync(require.resolve(FONT_FILES[face]))
  fontBytes.set(face, bytes)
  return bytes
}
