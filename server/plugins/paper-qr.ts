import bwipjs from 'bwip-js/node'
import type { Drawing } from '#core/marks.ts'

/** The clear border that ISO/IEC 18004 asks for, in modules (from memory). */
const QUIET_MODULES = 4

/** A QR code as one path of whole squares, its quiet zone inside the given width; error correction M. */
export function qrDrawing(text: string, width: number, label: string): Drawing {
  const rows = qrModules(text)
  const module = width / (rows.length + 2 * QUIET_MODULES)
  const at = (index: number) => ((index + QUIET_MODULES) * module).toFixed(3)
  let d = ''
  for (const [y, row] of rows.entries()) {
    for (let x = 0; x < row.length; x++) {
      if (!row[x]) continue
      const from = x
      while (row[x + 1]) x++
      d += `M${at(from)} ${at(y)}H${at(x + 1)}V${at(y + 1)}H${at(from)}Z`
    }
  }
  return { width, height: width, label, marks: [{ kind: 'path', d, fill: 'ink' }] }
}

function qrModules(text: string): boolean[][] {
  const [symbol] = bwipjs.raw({ bcid: 'qrcode', text, eclevel: 'M' } as Parameters<typeof bwipjs.raw>[0])
  if (!symbol || !('pixs' in symbol)) throw new Error('The QR encoder gave no modules')
  const { pixs, pixx, pixy } = symbol
  return Array.from({ length: pixy }, (_, y) => Array.from({ length: pixx }, (_, x) => pixs[y * pixx + x] === 1))
}
