const HEX = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, '0'))

function written(bytes: Uint8Array): string {
  const hex = Array.from(bytes, (byte) => HEX[byte]).join('')
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
}

// Shop tablets often reach the book by plain http on the local net, where crypto.randomUUID does not exist but getRandomValues does.
function randomBytes(count: number): Uint8Array {
  return crypto.getRandomValues(new Uint8Array(count))
}

/**
 * UUID version 7 (RFC 9562, section 5.7): 48 bits of milliseconds since 1970, then 74 random bits.
 * `nowMs` must be a whole number from 0 to 2^48 - 1; `random` needs ten bytes.
 */
export function uuidv7(nowMs: number, random: Uint8Array): string {
  if (!Number.isInteger(nowMs) || nowMs < 0 || nowMs >= 2 ** 48) throw new RangeError('uuidv7 needs whole milliseconds within 48 bits')
  if (random.length < 10) throw new RangeError('uuidv7 needs ten random bytes')
  const bytes = new Uint8Array(16)
  for (let place = 0; place < 6; place += 1) bytes[place] = Math.floor(nowMs / 2 ** (8 * (5 - place))) % 256
  bytes.set(random.subarray(0, 10), 6)
  bytes[6] = 0x70 | (bytes[6]! & 0x0f)
  bytes[8] = 0x80 | (bytes[8]! & 0x3f)
  return written(bytes)
}

/** An id for something about to be recorded, made here so that sending it twice records it once. */
export function newId(): string {
  return uuidv7(Date.now(), randomBytes(10))
}

/** A key for one act (Idempotency-Key). Make it when the act begins and send the same one on every further try. */
export function newKey(): string {
  if (typeof crypto.randomUUID === 'function') return crypto.randomUUID()
  const bytes = randomBytes(16)
  bytes[6] = 0x40 | (bytes[6]! & 0x0f)
  bytes[8] = 0x80 | (bytes[8]! & 0x3f)
  return written(bytes)
}
