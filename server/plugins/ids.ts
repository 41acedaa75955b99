/** Ids of rows: UUID version 7 (RFC 9562, 5.7), so that rows written one after the other lie beside each other. */
import { randomBytes } from 'node:crypto'

export function newId(at: number): string {
  const bytes = randomBytes(16)
  bytes.writeUIntBE(at, 0, 6)
  bytes[6] = (bytes[6]! & 0x0f) | 0x70
  bytes[8] = (bytes[8]! & 0x3f) | 0x80
  const hex = bytes.toString('hex')
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`
}
