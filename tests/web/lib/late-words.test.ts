import { expect, test } from 'vitest'
import { lateWords } from '#web/lib/late-words.ts'

test('both times by the clock of the shop, with the days where they differ', () => {
  const arrival = { occurredAt: '2026-11-24T09:02:00Z', recordedAt: '2026-11-24T10:40:00Z' }
  expect(lateWords('read', arrival, 'Europe/Warsaw')).toBe('came in late: read 10:02, in the book 11:40')
  const nextDay = { ...arrival, recordedAt: '2026-11-25T06:10:00Z' }
  expect(lateWords('done', nextDay, 'Europe/Warsaw')).toBe('came in late: done Tue 24 Nov, 10:02, in the book Wed 25 Nov, 07:10')
})
