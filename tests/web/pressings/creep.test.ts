import { describe, expect, test } from 'vitest'
import { read, setOf } from '#tests/web/bench-sample.ts'
import { foretellTaps, lastMoves, tapsInWords, tapsOf } from '#web/features/pressings/creep.ts'
import { whereItIs, widthNow } from '#web/features/pressings/width-now.ts'

// 60.08, 60.03, 59.98, 59.95, 59.92: a creep as a bench tells it, common practice, no source.
test('the last three taps foretell the next', () => {
  const moves = lastMoves([60.08, 60.03, 59.98, 59.95, 59.92])
  expect(moves).toEqual([0.05, 0.03, 0.03])
  const next = foretellTaps({ toGoMm: 0.07, roomMm: 0.12, moves })
  expect(next).toEqual({ kind: 'taps', count: 2, eachMm: 0.0367 })
  expect(tapsInWords(2)).toBe('about two taps')
  expect(tapsInWords(1)).toBe('about one tap')
  expect(tapsInWords(12)).toBe('about 12 taps')
})

test('no taps yet, nothing moved, and one that would go too far', () => {
  expect(foretellTaps({ toGoMm: 0.05, roomMm: 0.1, moves: [] })).toEqual({ kind: 'unknown' })
  expect(foretellTaps({ toGoMm: 0, roomMm: 0.04, moves: [0.03] })).toEqual({ kind: 'unknown' })
  expect(foretellTaps({ toGoMm: 0.05, roomMm: 0.1, moves: [0, 0.01, -0.01] })).toEqual({ kind: 'stuck' })
  expect(foretellTaps({ toGoMm: 0.02, roomMm: 0.04, moves: [0.06, 0.05, 0.07] })).toEqual({ kind: 'one-too-far', eachMm: 0.06 })
})

test('taps are widths at the pin alone, on the way, since the webs were last parted', () => {
  const before = setOf({ kind: 'width', values: read({ '0': 64.2 }), occurredAt: '2026-11-24T08:00:00Z' })
  const tap = setOf({ kind: 'width', values: read({ '0': 64.06 }), occurredAt: '2026-11-24T10:00:00Z', temperatureC: 21 })
  const all = setOf({ kind: 'width', values: read({ '0': 64.05, '90': 64.05 }), occurredAt: '2026-11-24T10:05:00Z' })
  const struck = { ...tap, id: 'x', struck: { by: 'Jonas', at: '2026-11-24T10:02:00Z', because: 'slipped' } }
  const parted = { id: 'p', direction: 'apart' as const, side: 'left' as const, by: 'Jonas', occurredAt: '2026-11-24T09:00:00Z' }
  expect(tapsOf([before, tap, struck, all], [parted])).toEqual([{ id: tap.id, mm: 64.06, temperatureC: 21 }])
})

describe('where the width is', () => {
  const cases = { minMm: 63.95, maxMm: 64.05 }
  const clearance = { minMm: 0.25, maxMm: 0.5 }
  const stack = { webLeftMm: 20.98, webRightMm: 20.99, rodWidthMm: 19.75, washersMm: [1, 1] }

  test('both windows by the sum of the book', () => {
    const now = widthNow({ cases, clearance, stack, readMm: 64.06, temperatureC: undefined })
    expect(now.rod?.minMm).toBeCloseTo(63.97, 9)
    expect(now.aimMm).toBeCloseTo(64.01, 9)
    expect(now.toGoMm).toBeCloseTo(0.05, 9)
    expect(whereItIs(now)).toBe('wide')
  })

  test('without a stack only the cases are known', () => {
    const now = widthNow({ cases, clearance, stack: undefined, readMm: 64.02, temperatureC: undefined })
    expect(now.rod).toBeUndefined()
    expect(now.toGoMm).toBeCloseTo(0.02, 9)
    expect(whereItIs(now)).toBe('in')
  })

  // 60 mm of steel 40 K warm is 0.0276 longer: 11.5e-6 /K (JCGM 100:2008, H.1).
  test('a warm part is taken back to 20 °C', () => {
    const now = widthNow({ cases: { minMm: 59.9, maxMm: 60 }, clearance: undefined, stack: undefined, readMm: 60.0276, temperatureC: 60 })
    expect(now.nowMm).toBeCloseTo(60, 4)
  })

  test('pressed too far, and a stack that fits nothing', () => {
    expect(whereItIs(widthNow({ cases, clearance, stack, readMm: 63.96, temperatureC: undefined }))).toBe('past')
    const thick = { ...stack, rodWidthMm: 20.5 }
    const none = widthNow({ cases, clearance, stack: thick, readMm: 64.1, temperatureC: undefined })
    expect(none.both).toBeNull()
    expect(whereItIs(none)).toBe('unknown')
  })
})
