import { describe, expect, it } from 'vitest'
import type { ReadingSet } from '#core/bench/reading-set.ts'
import { setsBefore } from '#core/bench/repeated-sets.ts'
import { aRecord } from './record.ts'

const read = aRecord().sets.find((set) => set.setUp !== null && set.runout !== null && set.phase !== 'received')!
const setUp = read.setUp!
const at = (minute: number) => new Date(Date.parse('2026-11-24T10:00:00Z') + minute * 60_000).toISOString()
const set = (minute: number, more: Partial<ReadingSet> = {}): ReadingSet => ({
  ...read,
  doneAt: at(minute),
  isStruck: false,
  phase: 'built',
  ...more,
})
const found = (sets: ReadingSet[], moved?: number) =>
  setsBefore(
    { sets, pressings: [], welds: [], moves: moved === undefined ? [] : [{ action: 'strike', doneAt: at(moved) }] },
    { phase: 'built', setUp, personId: read.personId, doneAt: at(30) },
  ).left.length

describe('sets read in the very set-up of a set to be', () => {
  it('are those just before by the same hand, on the way there or as it stands', () => {
    expect(found([set(0), set(10, { phase: 'building' }), set(20)])).toBe(3)
  })

  it.each<[string, Partial<ReadingSet>]>([
    ['another hand', { personId: 'another' }],
    ['another phase', { phase: 'second' }],
    ['struck out', { isStruck: true }],
    ['a dial moved', { setUp: { ...setUp, dialLeftMm: setUp.dialLeftMm + 1 } }],
    ['still warm', { setUp: { ...setUp, cold: !setUp.cold } }],
  ])('are not of %s', (_what, more) => {
    expect(found([set(20, more)])).toBe(0)
  })

  it('are not from before the last blow, nor an hour old, nor later', () => {
    expect(found([set(0), set(20)], 10)).toBe(1)
    expect(found([set(-31), set(31)])).toBe(0)
  })
})
