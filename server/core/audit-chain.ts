/**
 * The audit chain as the database builds it, worked again elsewhere: each row's hash covers its own fields and the hash
 * before it, so that a changed, swapped, inserted or missing row shows. The digest is an argument, since core has none.
 *
 * Source: own design; SHA-256 by FIPS 180-4. The SQL function audit_append builds the same bytes.
 */

export interface AuditLink {
  seq: number
  /** RFC 3339 in UTC with six decimals of the second. */
  recordedAt: string
  actorId: string | null
  action: string
  entity: string
  entityId: string
  requestId: string | null
  /** null where it was taken out later; its hash stays. */
  payload: string | null
  payloadHash: Uint8Array
  prevHash: Uint8Array
  hash: Uint8Array
}

export type Digest = (bytes: Uint8Array) => Uint8Array
export type Utf8 = (text: string) => Uint8Array

export interface ChainFault {
  seq: number
  says: string
}

/** The hash before the first row. */
export const chainStart = (digest: Digest, utf8: Utf8): Uint8Array => digest(utf8('throwbook'))

/**
 * The hash of one row of the chain: of the hashes of its parts, the hash of the row before among them, so that no text can
 * slip from one part into the next. Refuses nothing. Source: own design, the same as audit_append in SQL.
 */
export function linkHash(row: AuditLink, previous: Uint8Array, digest: Digest, utf8: Utf8): Uint8Array {
  const part = (text: string) => digest(utf8(text))
  return digest(
    joined([
      part('sha-256'),
      part(String(row.seq)),
      previous,
      part(row.recordedAt),
      part(row.actorId ?? ''),
      part(row.action),
      part(row.entity),
      part(row.entityId),
      part(row.requestId ?? ''),
      row.payloadHash,
    ]),
  )
}

/** The first fault of one row, given what came before it; null when it holds. */
export function faultOf(row: AuditLink, before: { seq: number; hash: Uint8Array }, digest: Digest, utf8: Utf8): ChainFault | null {
  const fault = (says: string) => ({ seq: row.seq, says })
  if (row.seq !== before.seq + 1) return fault(`row ${before.seq + 1} is missing`)
  if (!same(row.prevHash, before.hash)) return fault('it does not follow the row before it')
  if (row.payload !== null && !same(digest(utf8(row.payload)), row.payloadHash)) return fault('what it says was changed')
  if (!same(linkHash(row, before.hash, digest, utf8), row.hash)) return fault('one of its fields was changed')
  return null
}

function joined(parts: Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    whole.set(part, at)
    at += part.length
  }
  return whole
}

/** Whether two hashes are the same, byte by byte. */
export function same(one: Uint8Array, other: Uint8Array): boolean {
  return one.length === other.length && one.every((byte, index) => byte === other[index])
}
