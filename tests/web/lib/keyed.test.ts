import fc from 'fast-check'
import { expect, test } from 'vitest'
import { divisions, divisionsToMm, isNothing, isNumber, keyedOf, NOTHING_KEYED, type PadKey, press } from '#web/lib/keyed.ts'

function keyed(...keys: PadKey[]) {
  return keys.reduce((now, key) => press(now, key, 3), NOTHING_KEYED)
}

test('divisions are keyed with sign and half in any order', () => {
  expect(divisions(keyed('8'))).toBe(8)
  expect(divisions(keyed('minus', '5'))).toBe(-5)
  expect(divisions(keyed('5', 'minus'))).toBe(-5)
  expect(divisions(keyed('7', 'half'))).toBe(7.5)
  expect(divisions(keyed('half'))).toBe(0.5)
  expect(divisions(keyed('minus', 'half', '7'))).toBe(-7.5)
  expect(divisions(keyed('0'))).toBe(0)
  expect(Object.is(divisions(keyed('minus', '0')), 0)).toBe(true)
})

test('leading noughts are kept, for the last figures of a width', () => {
  expect(keyed('0', '6').digits).toBe('06')
})

test('a fourth digit is not taken', () => {
  expect(keyed('1', '2', '3', '4').digits).toBe('123')
})

test('rub out takes back one key at a time, the half first, then digits, then the minus', () => {
  let now = keyed('minus', '1', '2', 'half')
  now = press(now, 'rub-out', 3)
  expect(now).toEqual({ digits: '12', negative: true, half: false })
  now = press(press(now, 'rub-out', 3), 'rub-out', 3)
  expect(now).toEqual({ digits: '', negative: true, half: false })
  expect(isNumber(now)).toBe(false)
  expect(isNothing(press(now, 'rub-out', 3))).toBe(true)
})

test('a minus alone is no number', () => {
  expect(() => divisions(keyed('minus'))).toThrow('divisions needs a digit or a half')
})

test('divisions become mm without dust', () => {
  expect(divisionsToMm(7, 0.01)).toBe(0.07)
  expect(divisionsToMm(29, 0.01)).toBe(0.29)
  expect(divisionsToMm(7.5, 0.01)).toBe(0.075)
  expect(divisionsToMm(-12, 0.001)).toBe(-0.012)
  // A dial in thou: 0.0254 mm a division.
  expect(divisionsToMm(3, 0.0254)).toBe(0.0762)
})

test('what was read can be keyed again: every half division of a dial comes back as it was', () => {
  fc.assert(
    fc.property(fc.integer({ min: -1999, max: 1999 }), fc.constantFrom(0.01, 0.001, 0.002, 0.0254), (halves, stepMm) => {
      const reading = divisionsToMm(halves / 2, stepMm)
      expect(divisions(keyedOf(reading, stepMm))).toBe(halves / 2 === 0 ? 0 : halves / 2)
    }),
  )
})
