import { parseTag } from '#core/tag.ts'

export type ScannedCode = { jobId: string } | { tag: string } | { fault: string }

const LABEL = /\/(?:jobs|bench)\/([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})$/i
/** What some scanners put first to say which kind of code it was. */
const KIND_OF_CODE = /^\][A-Z]\d/i

/**
 * What a scanned code means: the crank of a label, a tag, or neither, said in words. Given are the readings of one scan by
 * the places of the keys and by the layout of the machine; the first that means something counts.
 */
export function scannedCode(readings: readonly string[]): ScannedCode {
  let fault = 'This code is no tag and no label of the book.'
  for (const reading of readings) {
    const text = reading.trim().replace(KIND_OF_CODE, '')
    const label = LABEL.exec(text)?.[1]
    if (label !== undefined) return { jobId: label.toLowerCase() }
    const tag = parseTag(text)
    if (tag.ok) return { tag: tag.tag }
    if (tag.reason === 'wrong-letter') fault = tag.detail
  }
  return { fault }
}
