import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readLength } from '#core/units.ts'
import { keyingWords, lengthKeyed } from '#web/lib/keyed-length.ts'

test('digits are places of what measures it', () => {
  expect(lengthKeyed('6406', 0.01)).toBe('64.06')
  expect(lengthKeyed('3', 0.01)).toBe('0.03')
  expect(lengthKeyed('34905', 0.001)).toBe('34.905')
  // Feelers in steps of a twentieth still show hundredths.
  expect(lengthKeyed('35', 0.05)).toBe('0.35')
})

test('a tail is taken of the length that lies nearest', () => {
  expect(lengthKeyed('06', 0.01, 64.02)).toBe('64.06')
  expect(lengthKeyed('98', 0.01, 64.02)).toBe('63.98')
  expect(lengthKeyed('905', 0.001, 35)).toBe('34.905')
  expect(lengthKeyed('6406', 0.01, 12)).toBe('64.06')
})

test('whatever is keyed lies within half a millimetre, and is read as the length it stands for', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 999 }), fc.double({ min: 1, max: 300, noNaN: true }), (count, near) => {
      const typed = lengthKeyed(String(count).padStart(3, '0'), 0.001, near)
      const read = readLength(typed, 'mm')
      expect(read.ok && Math.abs(read.value.mm - near)).toBeLessThanOrEqual(0.5 + 1e-9)
      expect(read.ok && read.value.mm).toBe(Number(typed))
    }),
  )
})

test('refuses what is no digit and a step of nothing', () => {
  expect(() => lengthKeyed('', 0.01)).toThrow(RangeError)
  expect(() => lengthKeyed('1.2', 0.01)).toThrow(RangeError)
  expect(() => lengthKeyed('12', 0)).toThrow(RangeError)
})

test('says how it is keyed', () => {
  expect(keyingWords(0.01, 64.02)).toBe('Keyed after 64. in hundredths: 06 is 64.06. Another whole: key all of it.')
  expect(keyingWords(0.01, undefined, '34')).toBe('Keyed in hundredths: 34 is 0.34.')
})
