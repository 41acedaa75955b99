/** Measures of the sheet in points, shared by its parts. */
export interface Layout {
  left: number
  width: number
  body: number
  small: number
  /** Greatest height of the drawing. */
  drawing: number
}
