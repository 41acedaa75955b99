import { describe, expect, it } from 'vitest'
import { surfaceSaid, withKeywaySkipped } from '#core/surface-words.ts'

// The words as they stand on the sheets of the demonstration shop's invented engines.
describe('surfaceSaid', () => {
  it.each([
    ['taper 1:5 + keyway', { surface: 'taper', taper: 5 }],
    ['taper 1:10 + keyway', { surface: 'taper', taper: 10 }],
    ['plain 20 mm, oil nose, thread beyond 60', { surface: 'plain', diameterMm: 20, further: [{ fromMm: 60, surface: 'thread' }] }],
    ['plain 17 mm then spline at 55', { surface: 'plain', diameterMm: 17, further: [{ fromMm: 55, surface: 'spline' }] }],
    ['plain 18 mm + keyway at 30-48', { surface: 'plain', diameterMm: 18, keyway: { fromMm: 30, toMm: 48 } }],
    ['plain, then M10 thread at 40', { surface: 'plain', further: [{ fromMm: 40, surface: 'thread' }] }],
    ['thread M14x1.0 (mislead), plain at 36', { surface: 'thread' }],
    ['spline 14 mm (mislead)', { surface: 'spline', diameterMm: 14 }],
    ['clutch taper 1:10', { surface: 'taper', taper: 10 }],
    ['beside the seal', { surface: 'plain' }],
    ['', { surface: 'plain' }],
  ])('%s', (words, wanted) => {
    expect(surfaceSaid(words)).toEqual(wanted)
  })
})

it('a skipped keyway is added to the words once', () => {
  expect(withKeywaySkipped('plain 20 mm')).toBe('plain 20 mm, keyway skipped')
  expect(withKeywaySkipped('taper 1:5, keyway')).toBe('taper 1:5, keyway skipped')
  expect(withKeywaySkipped('taper 1:5, keyway skipped')).toBe('taper 1:5, keyway skipped')
})
