import { createHash } from 'node:crypto'
import { canonicalJson } from '#core/canonical-json.ts'

/** What holds a sheet's data together; keyId is there for a seal by key, which this one is not. */
export interface Seal {
  alg: 'sha-256'
  keyId: null
  /** 64 hexadecimal digits. */
  value: string
}

/** The seal of some data: SHA-256 over their RFC 8785 form in UTF-8. Refuses (RangeError) what is not JSON. */
export function sealOf(data: unknown): Seal {
  return { alg: 'sha-256', keyId: null, value: createHash('sha256').update(canonicalJson(data), 'utf8').digest('hex') }
}

/** The first 16 bytes of a seal in groups of four digits, as it prints. */
export function fingerprintOf(seal: Seal): string {
  return seal.value.slice(0, 32).replace(/(.{4})(?=.)/g, '$1 ')
}
