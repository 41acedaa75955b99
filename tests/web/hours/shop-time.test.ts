import { expect, test } from 'vitest'
import { closingWords } from '#web/features/hours/closing-question.tsx'
import { instantAt, readTime } from '#web/features/hours/shop-time.ts'

test('a time on the shop’s wall is an instant', () => {
  expect(instantAt('Europe/Berlin', '2026-11-24', '18:00')).toBe('2026-11-24T17:00:00.000Z')
  expect(instantAt('Europe/Berlin', '2026-07-01', '18:00')).toBe('2026-07-01T16:00:00.000Z')
  expect(instantAt('UTC', '2026-11-24', '00:05')).toBe('2026-11-24T00:05:00.000Z')
  expect(instantAt('Asia/Kathmandu', '2026-11-24', '06:00')).toBe('2026-11-24T00:15:00.000Z')
})

// Germany: clocks go back on 25 October 2026 at 3:00 summer time, and go on on 29 March at 2:00 (EU directive 2000/84/EC).
test('an hour shown twice is its first; one skipped is as without the skip', () => {
  expect(instantAt('Europe/Berlin', '2026-10-25', '02:30')).toBe('2026-10-25T00:30:00.000Z')
  expect(instantAt('Europe/Berlin', '2026-10-25', '03:30')).toBe('2026-10-25T02:30:00.000Z')
  expect(instantAt('Europe/Berlin', '2026-03-29', '02:30')).toBe('2026-03-29T01:30:00.000Z')
  expect(instantAt('Europe/Berlin', '2026-03-29', '03:30')).toBe('2026-03-29T01:30:00.000Z')
})

test('refuses what is no date or time', () => {
  expect(() => instantAt('UTC', '24 Nov', '18:00')).toThrow(RangeError)
  expect(() => instantAt('UTC', '2026-11-24', '24:00')).toThrow(RangeError)
})

test('times as they are typed', () => {
  expect(['17:40', '17.40', '1740', '9:05', '905'].map(readTime)).toEqual(['17:40', '17:40', '17:40', '09:05', '09:05'])
  expect(['', '25:00', '17:60', 'noon', '17'].map(readTime)).toEqual([undefined, undefined, undefined, undefined, undefined])
})

test('when it was stopped, as one says it next morning', () => {
  const morning = Date.parse('2026-11-24T06:40:00Z')
  expect(closingWords('2026-11-23T17:00:00Z', 'Europe/Berlin', morning)).toBe('Yesterday 18:00')
  expect(closingWords('2026-11-20T17:00:00Z', 'Europe/Berlin', morning)).toBe('Fri 20 Nov, 18:00')
})
