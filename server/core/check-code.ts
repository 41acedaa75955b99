/** The 32 signs of a check code: figures and letters, without those that are taken for another (I, L, O) and without U. */
export const CHECK_CODE_SIGNS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'

/** 40 bits, drawn at random: about one chance in 10^12 for a guess at one certificate. */
export const CHECK_CODE_BYTES = 5

const SIGNS = 8
const BITS_A_SIGN = 5

export type ReadCheckCode = { ok: true; code: string } | { ok: false; reason: 'not-a-check-code'; detail: string }

/**
 * The check code of a certificate from five random bytes: eight signs of five bits, written in two groups. The bytes are
 * given by the caller, who draws them from a source fit for secrets.
 *
 * Refuses (RangeError) any other number of bytes. Source: groups of five bits, first bit first, RFC 4648 section 6; the
 * signs: D. Crockford, Base 32 (from memory).
 *
 * @example checkCodeFrom(new Uint8Array([0x3c, 0xc9, 0x44, 0xdf, 0x5d])) // '7K4M-9QTX'
 */
export function checkCodeFrom(randomBytes: Uint8Array): string {
  if (randomBytes.length !== CHECK_CODE_BYTES) throw new RangeError(`checkCodeFrom needs ${CHECK_CODE_BYTES} bytes`)
  let bits = 0n
  for (const byte of randomBytes) bits = (bits << 8n) | BigInt(byte)
  let code = ''
  for (let sign = SIGNS - 1; sign >= 0; sign -= 1) {
    code += CHECK_CODE_SIGNS.charAt(Number((bits >> BigInt(sign * BITS_A_SIGN)) & 31n))
  }
  return inGroups(code)
}

/**
 * A check code as somebody reads it off paper: small letters, missing or extra hyphens and spaces, O for 0 and I or L for 1
 * are all taken. Answers the code as it is printed.
 *
 * @example parseCheckCode('7k4m 9qtx') // { ok: true, code: '7K4M-9QTX' }
 */
export function parseCheckCode(typed: string): ReadCheckCode {
  const code = typed
    .toUpperCase()
    .replace(/[\s\-–—]/g, '')
    .replaceAll('O', '0')
    .replace(/[IL]/g, '1')
  const isCode = code.length === SIGNS && [...code].every((sign) => CHECK_CODE_SIGNS.includes(sign))
  if (isCode) return { ok: true, code: inGroups(code) }
  return { ok: false, reason: 'not-a-check-code', detail: 'A check code is eight signs in two groups, as 7K4M-9QTX. It has no U.' }
}

function inGroups(code: string): string {
  return `${code.slice(0, 4)}-${code.slice(4)}`
}
