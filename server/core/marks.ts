/**
 * A drawing as plain marks. One layout function answers marks; the screen paints them as SVG and the paper paints them
 * with pdfkit, so that a picture on a certificate cannot differ from the one at the bench. Lengths are in drawing units.
 */

/** Names of the inks of the sheet; each painter knows its own colours for them. */
export type Ink = 'ink' | 'soft' | 'edge' | 'rule' | 'hair' | 'blue' | 'blue-wash' | 'copper' | 'over' | 'sheet' | 'paper'

export interface PathMark {
  kind: 'path'
  /** SVG path data, absolute or relative; pdfkit reads the same text. */
  d: string
  fill?: Ink
  stroke?: Ink
  width?: number
  dash?: number[]
}

export interface CircleMark {
  kind: 'circle'
  x: number
  y: number
  r: number
  fill?: Ink
  stroke?: Ink
  width?: number
}

export interface TextMark {
  kind: 'text'
  x: number
  y: number
  text: string
  size: number
  anchor?: 'start' | 'middle' | 'end'
  ink?: Ink
  strong?: boolean
  /** Set in the face for figures rather than the face for text. */
  figure?: boolean
}

export type Mark = PathMark | CircleMark | TextMark

export interface Drawing {
  width: number
  height: number
  /** What the picture says, in one sentence, for those who cannot see it. */
  label: string
  marks: Mark[]
}
