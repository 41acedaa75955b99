/** Ids of rows: UUID version 7 (RFC 9562, 5.7), so that rows written one after the other lie in that order, also within a millisecond. */
import { randomBytes } from 'node:crypto'

const COUNTS = 0x1000
let last = 0
let count = 0

export function newId(at: number): string {
  count = at === last ? (count + 1) % COUNTS : 0
  last = at
  const bytes = randomBytes(16)
  bytes.writeUIntBE(at, 0, 6)
  bytes.writeUInt16BE(0x7000 + count, 6)
  bytes[8] = (bytes[8]! & 0x3f) | 0x80
  const hex = bytes.toString('hex')
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`
}
