import { expect, test } from 'vitest'
import type { Instrument } from '#contract/instruments.ts'
import { instrumentFor, rangeNamed } from '#web/lib/instrument-for.ts'

const one = (id: string, name: string, more: Partial<Instrument> = {}): Instrument => ({
  id,
  name,
  kind: 'micrometer',
  stepMm: 0.01,
  overdue: false,
  ended: false,
  version: 1,
  ...more,
})
const MIKES = [one('1', 'Micrometer 1, 0 to 25'), one('2', 'Micrometer 2, 25–50'), one('3', 'mike 3 (50-75 mm)')]
const DOUBT = { fault: '0198f3a0-0000-7000-8000-0000000000d1', kind: 'dropped', since: '2026-11-24T09:00:00Z' } as const

test('the range is read from the name where one is said', () => {
  expect(rangeNamed('Micrometer 3, 50 to 75')).toEqual({ from: 50, to: 75 })
  expect(rangeNamed('mike 12,5-25')).toEqual({ from: 12.5, to: 25 })
  expect([rangeNamed('Dial 4'), rangeNamed('bench 3 - 2')]).toEqual([undefined, undefined])
})

test('the one that reaches the length, unless this crank was read with another', () => {
  expect(instrumentFor(MIKES, undefined, 62)?.id).toBe('3')
  expect(instrumentFor(MIKES, undefined, 33)?.id).toBe('2')
  expect(instrumentFor(MIKES, '1', 62)?.id).toBe('1')
  expect(instrumentFor(MIKES, undefined, undefined)?.id).toBe('1')
  expect(instrumentFor([one('4', 'the old one'), ...MIKES], undefined, 62)?.id).toBe('4')
})

test('none that is overdue or in doubt, while there is another', () => {
  const doubtful = [one('1', 'Dial 3', { overdue: true }), one('2', 'Dial 4', { doubt: DOUBT }), one('3', 'Dial 5')]
  expect(instrumentFor(doubtful, '1', undefined)?.id).toBe('3')
  expect(instrumentFor(doubtful.slice(0, 2), undefined, undefined)?.id).toBe('1')
  expect(instrumentFor([], undefined, 62)).toBeUndefined()
})
