import { describe, expect, it } from 'vitest'
import { dayBeside, dayInWords, twoDaysInWords } from '#core/days-in-words.ts'

describe('days in words', () => {
  it('leave out what two days share, and the year that is spoken of anyway', () => {
    expect(twoDaysInWords('measured', '2026-11-28', 'issued', '2026-12-03')).toBe('measured 28 November, issued 3 December 2026')
    expect(twoDaysInWords('measured', '2025-12-31', 'issued', '2026-01-02')).toBe('measured 31 December 2025, issued 2 January 2026')
    expect(twoDaysInWords('measured', '2026-12-03', 'issued', '2026-12-03')).toBe('measured and issued 3 December 2026')
    expect(dayBeside('2025-10-14', '2026-12-03')).toBe('14 October 2025')
  })

  it.each(['2026-02-29', '2026-13-01', '2026-1-1', '', '2026-04-31'])('refuse %s', (date) => {
    expect(() => dayInWords(date)).toThrow(/^dayInWords needs /)
  })

  it('know leap years', () => {
    expect(dayInWords('2028-02-29')).toBe('29 February 2028')
    expect(() => dayInWords('2100-02-29')).toThrow(RangeError)
  })
})
