import { describe, expect, test } from 'vitest'
import {
  COMEBACK_CAUSES,
  COMEBACK_SHARES,
  comebackCounts,
  decisionFault,
  monthsAfter,
  type ReportAsDecided,
  repeatsCertificate,
} from '#core/comeback.ts'
import { FINDING_WORDS, FINDINGS, findingsClash, showsAFault } from '#core/comeback-findings.ts'

// Common practice, no source: who is to blame does not come into it.
describe('whether a report counts', () => {
  const gone = { goneOn: '2026-01-31', hours: null }

  test('until the last day of the 12 months, that day among them, and not on the next', () => {
    expect(comebackCounts({ ...gone, day: '2026-01-31' }).counts).toBe(true)
    expect(comebackCounts({ ...gone, day: '2027-01-31' })).toEqual({
      counts: true,
      why: 'It counts as a comeback: within 12 months of going home, which end on 31 January 2027.',
    })
    expect(comebackCounts({ ...gone, day: '2027-02-01' })).toEqual({
      counts: false,
      why: 'It does not count: the 12 months ended on 31 January 2027.',
    })
  })

  test('later too, within the hours that were promised', () => {
    const late = { ...gone, day: '2027-06-01', promisedHours: 50 }
    expect(comebackCounts({ ...late, hours: 50 })).toEqual({
      counts: true,
      why: 'It counts as a comeback: the 12 months ended on 31 January 2027, but 50 h are within the 50 h promised.',
    })
    expect(comebackCounts({ ...late, hours: 50.5 }).why).toContain('50.5 h are over the 50 h promised')
    expect(comebackCounts(late)).toMatchObject({ counts: false, why: expect.stringContaining('its hours are not known') })
    // Inside the 12 months hours do not matter.
    expect(comebackCounts({ ...late, day: '2026-06-01', hours: 400 }).counts).toBe(true)
  })

  test('not where it went home no more', () => {
    expect(comebackCounts({ goneOn: null, day: '2026-06-01', hours: null }).counts).toBe(false)
  })

  test.each([
    [{ goneOn: '2026-02-30', day: '2026-06-01', hours: null }],
    [{ goneOn: '2026-02-01', day: 'June', hours: null }],
    [{ goneOn: '2026-02-01', day: '2026-06-01', hours: -1 }],
    [{ goneOn: '2026-02-01', day: '2026-06-01', hours: Number.NaN }],
  ])('refuses %o', (report) => {
    expect(() => comebackCounts(report)).toThrow(RangeError)
  })
})

// PostgreSQL 18, 9.9: "2024-01-31 + 1 month" is the last day of February; tests/server/comebacks asks the database itself.
describe('months later', () => {
  test.each([
    ['2026-11-24', 12, '2027-11-24'],
    ['2028-02-29', 12, '2029-02-28'],
    ['2024-01-31', 1, '2024-02-29'],
    ['2025-12-31', 2, '2026-02-28'],
    ['2025-12-01', 0, '2025-12-01'],
  ])('%s and %i months is %s', (date, months, later) => {
    expect(monthsAfter(date, months)).toBe(later)
  })

  test('refuses what is no date and no number of months', () => {
    for (const [date, months] of [['2026-13-01', 1] as const, ['2026-01-01', -1] as const, ['2026-01-01', 0.5] as const])
      expect(() => monthsAfter(date, months)).toThrow(RangeError)
  })
})

describe('cause and whose it is', () => {
  const fault = (report: Partial<ReportAsDecided>) => decisionFault({ found: [], foundNote: null, cause: null, share: null, ...report })

  test('stand only after something was found, in a finding or in words', () => {
    const decided = { cause: 'kit', share: 'part' } as const
    expect(fault(decided)).toMatchObject({ field: 'cause', detail: expect.stringContaining('decided after looking') })
    expect(fault({ ...decided, found: ['cage-broken'] })).toBeNull()
    expect(fault({ cause: 'not-known', share: 'not-known', foundNote: 'Never sent in.' })).toBeNull()
    expect(fault({ cause: 'not-known', share: 'not-known' })).toMatchObject({ field: 'cause' })
  })

  test('are decided together', () => {
    expect(fault({ found: ['cage-broken'], cause: 'kit' })?.field).toBe('share')
    expect(fault({ found: ['cage-broken'], share: 'part' })?.field).toBe('cause')
  })

  test('agree with what was found', () => {
    const nothing = { cause: 'nothing-found', share: 'theirs' } as const
    expect(fault({ ...nothing, found: ['cage-broken'] })?.detail).toContain('Something was found')
    expect(fault({ ...nothing, found: ['repeats-certificate'] })).toBeNull()
    expect(fault({ ...nothing, found: ['repeats-certificate'], cause: 'kit' })?.detail).toContain('No fault was found')
    expect(fault({ found: ['nothing-wrong'], cause: 'not-known', share: 'not-known' })).toBeNull()
  })

  test('every cause can stand beside a finding that fits it, with every share', () => {
    for (const cause of COMEBACK_CAUSES)
      for (const share of COMEBACK_SHARES)
        expect(fault({ found: [cause === 'nothing-found' ? 'nothing-wrong' : 'washers-both-blue'], cause, share })).toBeNull()
  })
})

describe('findings', () => {
  test('each says what was seen and what it speaks for', () => {
    for (const one of FINDINGS) for (const word of Object.values(FINDING_WORDS[one])) expect(word).toMatch(/^[a-z].*[a-z]$/)
    expect(FINDINGS.filter((one) => !showsAFault([one]))).toEqual(['repeats-certificate', 'nothing-wrong'])
  })

  test('that cannot be of one crank are told, in whatever order they come', () => {
    expect(findingsClash(['washer-one-blue', 'washers-both-blue'])).toBe('Both washers blue and one washer blue cannot both be.')
    expect(findingsClash(['pin-shifted', 'repeats-certificate'])).toBe(
      'Reading repeats the certificate and pin shifted, witness line broken cannot both be.',
    )
    expect(findingsClash(['nothing-wrong', 'repeats-certificate'])).toBeNull()
    expect(findingsClash(['cage-broken', 'cage-broken'])).toBe('The same finding stands there twice.')
    expect(findingsClash([])).toBeNull()
  })
})

// Two independent readings: the doubts add as a root of squares (JCGM 100:2008, 5.1); 0.006 and 0.008 make 0.010.
describe('a reading that repeats the certificate', () => {
  const read = (nowMm: number) => repeatsCertificate({ thenMm: 0.02, nowMm, giveOrTakeThenMm: 0.006, giveOrTakeNowMm: 0.008 })
  test('differs by no more than both give-or-takes together', () => {
    expect([read(0.03), read(0.0301), read(0.01), read(0.0099)]).toEqual([true, false, true, false])
  })
  test('refuses a length under 0', () => {
    expect(() => read(-0.01)).toThrow(RangeError)
  })
})
