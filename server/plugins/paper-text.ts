import type { Ink } from '#core/marks.ts'
import { type Face, PAPER_INKS, type Paper } from '#server/plugins/paper.ts'

/** A piece of text in one face. */
export interface Piece {
  text: string
  face?: Face
  ink?: Ink
}

export interface TextStyle {
  size: number
  face?: Face
  ink?: Ink
  /** Line height as a multiple of the size. */
  leading?: number
}

interface Run {
  text: string
  face: Face
  ink: Ink
}

/** Text broken into lines of one width, ready to be drawn. */
export interface LaidText {
  lines: Run[][]
  size: number
  lineHeight: number
  width: number
  height: number
}

// B612 stands taller and wider than Barlow at the same size.
const FIGURE_SCALE = 0.92
const FALLBACK: Record<Face, Face> = { text: 'text', strong: 'strong', figure: 'text', 'strong-figure': 'strong' }

/** Breaks text at spaces to a width; a word too long for a line is broken where it must. A line break in the text is one here. */
export function layText(paper: Paper, text: string | Piece[], width: number, style: TextStyle): LaidText {
  const pieces = typeof text === 'string' ? [{ text }] : text
  const lines: Run[][] = [[]]
  let used = 0
  const startLine = () => {
    lines.push([])
    used = 0
  }
  for (const token of tokensOf(paper, pieces, style)) {
    if (token.kind === 'break') startLine()
    else if (token.kind === 'space') {
      if (used > 0) used += append(paper, lines.at(-1)!, token.run, style.size)
    } else {
      const wide = token.runs.reduce((sum, run) => sum + widthOf(paper, run, style.size), 0)
      if (used > 0 && used + wide > width + 0.01) startLine()
      for (const run of wide > width ? token.runs.flatMap((one) => cutUp(one)) : token.runs) {
        if (used > 0 && used + widthOf(paper, run, style.size) > width + 0.01) startLine()
        used += append(paper, lines.at(-1)!, run, style.size)
      }
    }
  }
  const lineHeight = style.size * (style.leading ?? 1.32)
  const trimmed = lines.map(withoutEndSpace)
  return { lines: trimmed, size: style.size, lineHeight, width, height: trimmed.length * lineHeight }
}

/** Draws laid text with its top at y; align within its own width. Marks nothing in the tree of tags. */
export function drawText(paper: Paper, laid: LaidText, x: number, y: number, align: 'left' | 'right' | 'middle' = 'left'): void {
  for (const [index, line] of laid.lines.entries()) {
    const wide = lineWidth(paper, line, laid.size)
    const start = align === 'left' ? x : align === 'right' ? x + laid.width - wide : x + (laid.width - wide) / 2
    const baseline = y + laid.lineHeight * (index + 0.5) + laid.size * 0.35
    drawLine(paper, line, start, baseline, laid.size)
  }
}

/** One line with its baseline at y, drawn from, to or about x. */
export function drawLineAt(
  paper: Paper,
  text: string | Piece[],
  x: number,
  y: number,
  style: TextStyle,
  anchor: 'start' | 'middle' | 'end' = 'start',
): void {
  const line = runsOf(paper, typeof text === 'string' ? [{ text }] : text, style).flatMap((run) => covered(paper, run))
  const wide = lineWidth(paper, line, style.size)
  drawLine(paper, line, anchor === 'start' ? x : anchor === 'end' ? x - wide : x - wide / 2, y, style.size)
}

/** How wide one line is, in points. */
export function textWidth(paper: Paper, text: string | Piece[], style: TextStyle): number {
  const line = runsOf(paper, typeof text === 'string' ? [{ text }] : text, style).flatMap((run) => covered(paper, run))
  return lineWidth(paper, line, style.size)
}

/** The first lines that fit into a height, and the rest, neither of a single line; null where that cannot be. */
export function splitText(laid: LaidText, height: number): [LaidText, LaidText] | null {
  const count = Math.min(Math.floor((height + 0.01) / laid.lineHeight), laid.lines.length - 2)
  if (count < 2) return null
  const part = (lines: Run[][]): LaidText => ({ ...laid, lines, height: lines.length * laid.lineHeight })
  return [part(laid.lines.slice(0, count)), part(laid.lines.slice(count))]
}

type Token = { kind: 'break' } | { kind: 'space'; run: Run } | { kind: 'word'; runs: Run[] }

function tokensOf(paper: Paper, pieces: Piece[], style: TextStyle): Token[] {
  const tokens: Token[] = []
  for (const run of runsOf(paper, pieces, style)) {
    for (const part of run.text.split(/(\n| +)/)) {
      if (part === '') continue
      if (part === '\n') tokens.push({ kind: 'break' })
      else if (part.startsWith(' ')) tokens.push({ kind: 'space', run: { ...run, text: ' ' } })
      else {
        const last = tokens.at(-1)
        // A word may change its face half-way: it is still one word.
        if (last?.kind === 'word') last.runs.push({ ...run, text: part })
        else tokens.push({ kind: 'word', runs: [{ ...run, text: part }] })
      }
    }
  }
  return tokens
}

function runsOf(paper: Paper, pieces: Piece[], style: TextStyle): Run[] {
  return pieces.map((piece) => ({
    text: settable(paper, piece.text),
    face: piece.face ?? style.face ?? 'text',
    ink: piece.ink ?? style.ink ?? 'ink',
  }))
}

/**
 * Text as it can be set: line breaks of one kind, a figure and its unit on one line, and a question mark for what neither
 * face can write (other scripts, pictures), as a glyph that is missing must not be passed over in silence.
 */
function settable(paper: Paper, text: string): string {
  const has = glyphsOf(paper, 'text')
  const tidy = text
    .replace(/\r\n?/g, '\n')
    .replace(/\t/g, ' ')
    .replace(/(\d) (mm|thou|h|t|°C)(?!\p{L})/gu, '$1\u00a0$2')
    .normalize('NFC')
  if (/^[\n\x20-\x7e\u00a0-\u017f‘’“”–—…·]*$/.test(tidy)) return tidy
  return graphemes(tidy)
    .map((one) => (one === '\n' || [...one].every((character) => has(character.codePointAt(0)!)) ? one : '?'))
    .join('')
}

function graphemes(text: string): string[] {
  return [...new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(text)].map(({ segment }) => segment)
}

/** Adds a run to a line, joining it to the one before where face and ink are the same; answers its width. */
function append(paper: Paper, line: Run[], run: Run, size: number): number {
  for (const part of covered(paper, run)) {
    const last = line.at(-1)
    if (last && last.face === part.face && last.ink === part.ink) last.text += part.text
    else line.push({ ...part })
  }
  return widthOf(paper, run, size)
}

function cutUp(run: Run): Run[] {
  return graphemes(run.text).map((text) => ({ ...run, text }))
}

function withoutEndSpace(line: Run[]): Run[] {
  const last = line.at(-1)
  if (!last?.text.endsWith(' ')) return line
  const text = last.text.trimEnd()
  return text === '' ? line.slice(0, -1) : [...line.slice(0, -1), { ...last, text }]
}

/** A run split where its face lacks a glyph: those characters are set in the face for text. */
function covered(paper: Paper, run: Run): Run[] {
  const fallback = FALLBACK[run.face]
  if (fallback === run.face) return [run]
  const has = glyphsOf(paper, run.face)
  const out: Run[] = []
  for (const character of run.text) {
    const face = has(character.codePointAt(0)!) ? run.face : fallback
    const last = out.at(-1)
    if (last?.face === face) last.text += character
    else out.push({ ...run, face, text: character })
  }
  return out
}

function glyphsOf(paper: Paper, face: Face): (codePoint: number) => boolean {
  const opened = paper.doc.font(face) as unknown as { _font: { font: { hasGlyphForCodePoint(codePoint: number): boolean } } }
  const { font } = opened._font
  return (codePoint) => font.hasGlyphForCodePoint(codePoint)
}

function sizeOf(face: Face, size: number): number {
  return face === 'figure' || face === 'strong-figure' ? size * FIGURE_SCALE : size
}

function widthOf(paper: Paper, run: Run, size: number): number {
  return lineWidth(paper, covered(paper, run), size)
}

function lineWidth(paper: Paper, line: Run[], size: number): number {
  return line.reduce((sum, run) => sum + paper.doc.font(run.face).fontSize(sizeOf(run.face, size)).widthOfString(run.text), 0)
}

function drawLine(paper: Paper, line: Run[], start: number, baseline: number, size: number): void {
  let x = start
  for (const run of line) {
    paper.doc.font(run.face).fontSize(sizeOf(run.face, size)).fillColor(PAPER_INKS[run.ink])
    paper.doc.text(run.text, x, baseline, { lineBreak: false, baseline: 'alphabetic' })
    x += paper.doc.widthOfString(run.text)
  }
}
