import { describe, expect, test } from 'vitest'
import { boxFaults } from '#core/box-list.ts'

const CAME = [{ what: 'keys', count: 2 }, { what: 'mains on' }]

describe('the list of the box', () => {
  test('everything back, or less with a word why, has no fault', () => {
    const mains = { what: 'mains on', came: 1, back: 0, why: 'worn, thrown away with the customer’s word' }
    expect(boxFaults(CAME, [{ what: 'keys', came: 2, back: 2 }, mains])).toEqual([])
    expect(boxFaults([], [])).toEqual([])
    expect(boxFaults([], [{ what: 'old rod', came: 1, back: 1 }])).toEqual([])
  })

  test.each([
    ['left out', [{ what: 'keys', came: 2, back: 2 }], 'left-out', null],
    [
      'another number than came in',
      [
        { what: 'keys', came: 1, back: 1 },
        { what: 'mains on', came: 1, back: 1 },
      ],
      'other-count',
      0,
    ],
    [
      'more than came in',
      [
        { what: 'keys', came: 2, back: 3 },
        { what: 'mains on', came: 1, back: 1 },
      ],
      'more-than-came',
      0,
    ],
    [
      'fewer without a word',
      [
        { what: 'keys', came: 2, back: 2 },
        { what: 'mains on', came: 1, back: 0 },
      ],
      'no-reason',
      1,
    ],
    [
      'fewer with an empty word',
      [
        { what: 'keys', came: 2, back: 1, why: ' ' },
        { what: 'mains on', came: 1, back: 1 },
      ],
      'no-reason',
      0,
    ],
  ])('%s', (_what, items, code, item) => {
    expect(boxFaults(CAME, items).map((fault) => [fault.code, fault.item])).toEqual([[code, item]])
  })
})
