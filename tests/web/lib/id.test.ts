import { afterEach, expect, test, vi } from 'vitest'
import { id } from '#contract/primitives.ts'
import { newId, newKey, uuidv7 } from '#web/lib/id.ts'

afterEach(() => {
  vi.unstubAllGlobals()
})

// RFC 9562, appendix A.6: unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b 0b01, 0x8C4DC0C0C07398F. Status: from memory.
test('a UUIDv7 is laid out as the example of RFC 9562', () => {
  const random = new Uint8Array([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f])
  expect(uuidv7(0x017f22e279b0, random)).toBe('017f22e2-79b0-7cc3-98c4-dc0c0c07398f')
})

test('later ids sort after earlier ones whatever the random part', () => {
  const most = new Uint8Array(10).fill(255)
  const least = new Uint8Array(10)
  expect(uuidv7(1_795_000_000_000, most) < uuidv7(1_795_000_000_001, least)).toBe(true)
})

test('what is no time or too little chance is refused', () => {
  expect(() => uuidv7(-1, new Uint8Array(10))).toThrow(RangeError)
  expect(() => uuidv7(0.5, new Uint8Array(10))).toThrow(RangeError)
  expect(() => uuidv7(2 ** 48, new Uint8Array(10))).toThrow(RangeError)
  expect(() => uuidv7(0, new Uint8Array(9))).toThrow('uuidv7 needs ten random bytes')
})

test('ids and keys are UUIDs the contract takes, and no two are equal', () => {
  const many = new Set(Array.from({ length: 500 }, newId))
  expect(many.size).toBe(500)
  for (const one of many) expect(id.safeParse(one).success).toBe(true)
  expect(new Set(Array.from({ length: 500 }, newKey)).size).toBe(500)
})

test('without a secure context (plain http in the shop) a key is still a version 4 UUID', () => {
  const random = crypto.getRandomValues.bind(crypto)
  vi.stubGlobal('crypto', { getRandomValues: random })
  expect(newKey()).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
})
