import { describe, expect, it } from 'vitest'
import { median } from '#core/numeric/median.ts'

describe('median', () => {
  it('is the middle one, or halfway between the two in the middle, and leaves the list as it was', () => {
    const list = [10, 9, 1]
    expect(median(list)).toBe(9)
    expect(list).toEqual([10, 9, 1])
    expect(median([10, 9, 1, 2])).toBe(5.5)
    expect(median([7])).toBe(7)
  })

  it('refuses no values', () => {
    expect(() => median([])).toThrow(/^median needs /)
  })
})
