import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { createCanvas } from '@napi-rs/canvas'
import { getDocument, VerbosityLevel } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'

const require = createRequire(import.meta.url)

export interface ReadPage {
  width: number
  height: number
  /** All text in the order of the file, pieces joined as a reader's eye joins them. */
  text: string
}

export interface ReadPdf {
  pages: ReadPage[]
  info: Record<string, unknown>
  /** Roles of the tree of tags in reading order, each with what it says of itself. */
  tags: { role: string; alt?: string; depth: number }[]
  lang: string | null
  marked: boolean
}

interface StructNode {
  role?: string
  alt?: string
  children?: StructNode[]
}

/** Reads a PDF back: sizes, text, tags, what it says of itself. */
export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const pdf = await open(bytes)
  const pages: ReadPage[] = []
  const tags: ReadPdf['tags'] = []
  for (let number = 1; number <= pdf.numPages; number++) {
    const page = await pdf.getPage(number)
    const { width, height } = page.getViewport({ scale: 1 })
    const content = await page.getTextContent()
    const text = content.items.map((item) => ('str' in item ? item.str + (item.hasEOL ? '\n' : '') : '')).join('')
    pages.push({ width, height, text: text.replace(/\s+/g, ' ').trim() })
    collect((await page.getStructTree()) as StructNode | null, 0, tags)
  }
  const { info } = await pdf.getMetadata()
  const markInfo = await pdf.getMarkInfo()
  const lang = 'Language' in info ? String(info.Language) : null
  await pdf.destroy()
  return { pages, info: { ...info }, tags, lang, marked: Boolean(markInfo && 'Marked' in markInfo && markInfo.Marked) }
}

export interface TextBox {
  text: string
  left: number
  right: number
  top: number
  bottom: number
}

/** Where each piece of text stands on a page, points from its top left corner; figures and capitals, without tails. */
export async function textBoxes(bytes: Uint8Array, number = 1): Promise<TextBox[]> {
  const pdf = await open(bytes)
  const page = await pdf.getPage(number)
  const { height } = page.getViewport({ scale: 1 })
  const { items } = await page.getTextContent()
  await pdf.destroy()
  return items.flatMap((item) => {
    if (!('str' in item) || item.str.trim() === '') return []
    const [size, x, baseline] = [item.transform[3] as number, item.transform[4] as number, height - (item.transform[5] as number)]
    return [{ text: item.str, left: x, right: x + item.width, top: baseline - size * 0.7, bottom: baseline }]
  })
}

/** Pieces of text that lie on one another or leave the page, each said in words. */
export function clashesOf(boxes: readonly TextBox[], page: { width: number; height: number }): string[] {
  const found: string[] = []
  for (const [index, a] of boxes.entries()) {
    if (a.left < 3 || a.right > page.width - 3 || a.top < 3 || a.bottom > page.height - 3) found.push(`${a.text} leaves the page`)
    for (const b of boxes.slice(index + 1)) {
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left)
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top)
      if (across > 0.5 && down > 0.5) found.push(`${a.text} on ${b.text}`)
    }
  }
  return found
}

/** What the codes on a page say, QR among them. */
export async function readCodes(bytes: Uint8Array, options: { page?: number; dpi?: number } = {}): Promise<string[]> {
  const { canvas, context } = await painted(bytes, options)
  const wasm = readFileSync(require.resolve('zxing-wasm/reader/zxing_reader.wasm'))
  await prepareZXingModule({
    overrides: { wasmBinary: wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength) as ArrayBuffer },
    fireImmediately: true,
  })
  const { data } = context.getImageData(0, 0, canvas.width, canvas.height)
  const found = await readBarcodes(
    { data, width: canvas.width, height: canvas.height, colorSpace: 'srgb' } as Parameters<typeof readBarcodes>[0],
    { tryHarder: true, maxNumberOfSymbols: 20 },
  )
  return found.map((code) => code.text)
}

/** Names of the fonts in the file and whether each is inside it; a file packed into object streams would hide them. */
export function fontsOf(bytes: Uint8Array): { name: string; embedded: boolean }[] {
  const source = Buffer.from(bytes).toString('latin1')
  return [...source.matchAll(/\/Type \/FontDescriptor\s[\s\S]*?endobj/g)].map(([descriptor]) => ({
    name: descriptor.match(/\/FontName \/(\S+)/)?.[1] ?? '',
    embedded: /\/FontFile[23]? \d+ 0 R/.test(descriptor),
  }))
}

async function painted(bytes: Uint8Array, { page = 1, dpi = 150 }: { page?: number; dpi?: number }) {
  const pdf = await open(bytes)
  const sheet = await pdf.getPage(page)
  const viewport = sheet.getViewport({ scale: dpi / 72 })
  const canvas = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height))
  const context = canvas.getContext('2d')
  context.fillStyle = '#fff'
  context.fillRect(0, 0, canvas.width, canvas.height)
  await sheet.render({ canvasContext: context, viewport } as unknown as Parameters<typeof sheet.render>[0]).promise
  await pdf.destroy()
  return { canvas, context }
}

function open(bytes: Uint8Array) {
  // pdf.js takes the buffer over, so it gets its own.
  return getDocument({ data: new Uint8Array(bytes), verbosity: VerbosityLevel.ERRORS, useSystemFonts: false, isEvalSupported: false })
    .promise
}

function collect(node: StructNode | null, depth: number, tags: ReadPdf['tags']): void {
  if (!node) return
  if (node.role) tags.push({ role: node.role, depth, ...(node.alt ? { alt: node.alt } : {}) })
  for (const child of node.children ?? []) collect(child, depth + 1, tags)
}
