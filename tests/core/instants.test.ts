import { describe, expect, test } from 'vitest'
import { isLater, latestOf, millisecondsOf } from '#core/instants.ts'

describe('instants (RFC 3339, UTC)', () => {
  test('as milliseconds, fractions kept', () => {
    expect(millisecondsOf('1970-01-01T00:00:01.5Z')).toBe(1500)
    expect(millisecondsOf('1970-01-01T00:00:00.0005Z')).toBe(0.5)
    // POSIX time of the start of 2000, a fact.
    expect(millisecondsOf('2000-01-01T00:00:00Z')).toBe(946_684_800_000)
  })

  test.each([
    '2026-11-24',
    '2026-11-24T09:05:00',
    '2026-11-24T09:05:00+01:00',
    '2026-02-30T09:05:00Z',
    '2026-11-24T25:00:00Z',
    '2026-11-24 09:05:00Z',
    '',
  ])('refuses %s', (text) => {
    expect(() => millisecondsOf(text)).toThrow(RangeError)
  })

  test('later, by the instant and not by the text', () => {
    expect(isLater('2026-11-24T09:15:00Z', '2026-11-24T09:05:00Z')).toBe(true)
    expect(isLater('2026-11-24T09:05:00.000Z', '2026-11-24T09:05:00Z')).toBe(false)
    expect(isLater('2026-11-24T09:05:00.001Z', '2026-11-24T09:05:00Z')).toBe(true)
    expect(isLater('2026-11-24T09:05:00Z', null)).toBe(true)
  })

  test('the latest of some', () => {
    expect(latestOf(['2026-11-24T09:05:00Z', null, '2026-11-24T11:40:00Z', '2026-11-24T10:00:00Z'])).toBe('2026-11-24T11:40:00Z')
    expect(latestOf([null, null])).toBeNull()
    expect(latestOf([])).toBeNull()
  })
})
