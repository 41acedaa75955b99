import { describe, expect, test } from 'vitest'
import { flow, today } from '#tests/web/office/sample-office.ts'
import { opened } from '#tests/web/office/sample-opened.ts'
import { monthsBefore, windowAsked, windowWords } from '#web/features/office/search.ts'
import {
  betweenWords,
  chanceWords,
  littleWords,
  monthWords,
  ofWords,
  perHundred,
  plain,
  promisedWords,
  readyWords,
  stayWords,
  waitingWords,
  weekNumber,
} from '#web/features/office/words.ts'

describe('sentences of the office', () => {
  test('waiting: how many for what, and since how long', () => {
    expect(waitingWords(today.waiting)).toBe('Waiting: 3 for a kit, oldest 15 days; 1 for a yes, 4 days.')
    expect(waitingWords(opened.today.waiting)).toBe('Nothing waits for a kit, a yes or somebody outside.')
  })

  test('promised against the hours that are free, the late ones beside', () => {
    expect(promisedWords(today.promised)).toBe(
      'Promised this week: 5 cranks, 11.6 h, and 4.2 h for what is late. Bench hours free: 19.0 h.',
    )
    expect(promisedWords(opened.today.promised)).toBe('Promised this week: none. Bench hours free: 25.6 h.')
    expect(promisedWords({ ...today.promised, n: 1, hours: 2, lateHours: 0 })).toBe(
      'Promised this week: 1 crank, 2.0 h. Bench hours free: 19.0 h.',
    )
  })

  test('ready and not fetched, with the money', () => {
    expect(readyWords(today.ready, 'EUR')).toBe('Ready, not fetched: 4, one 47 days. 731.00 EUR on the shelf.')
    expect(readyWords({ ...today.ready, n: 1, oldestDays: 1 }, 'EUR')).toBe('Ready, not fetched: 1, 1 day. 731.00 EUR on the shelf.')
    expect(readyWords(opened.today.ready, 'EUR')).toBe('Nothing is ready and not fetched.')
  })

  test('days in the house, and Little’s law with its parts', () => {
    expect(stayWords(flow.stay.all)).toBe('Half are home in 9 days, 17 in 20 in 16.')
    expect(stayWords({ n: 2, half: 1, seventeenIn20: 8.25 })).toBe('Half are home in 1 day, 17 in 20 in 8.2.')
    expect(stayWords({ n: 0 })).toBe('None has left in these weeks.')
    expect(littleWords(flow.little)).toBe('In hand = per day × days here: 1.4 × 9.8 = 13.7.')
    expect(littleWords({ ...flow.little, perDay: 0.575, meanDays: 13.26, product: 7.62 })).toBe(
      'In hand = per day × days here: 0.575 × 13.3 = 7.6.',
    )
    expect(littleWords(opened.flow.little)).toBe('')
  })

  test.each([
    [1 / 2604, '1 in 2,600'],
    [0.04, '1 in 25'],
    [1 / 3, '1 in 3'],
    [0.8, 'more often than not'],
    [0, 'less than 1 in 1,000,000'],
  ])('a chance of %d is %s', (p, words) => expect(chanceWords(p)).toBe(words))

  test('figures without digits that say nothing', () => {
    expect([9, 9.5, 10.04, 0].map((value) => plain(value))).toEqual(['9', '9.5', '10', '0'])
    expect([3.125, 28.6, 0, 9.96].map(perHundred)).toEqual(['3.1', '29', '0.0', '10'])
    expect(betweenWords({ low: 0.017, high: 0.058 })).toBe('1.7 to 5.8')
    expect(ofWords({ count: 26, n: 43 })).toBe('26 of 43')
    expect(ofWords({ count: 0, n: 0 })).toBe('none yet')
    expect(monthWords('2026-11')).toEqual({ name: 'November 2026', label: 'Nov' })
    expect(() => monthWords('2026-13')).toThrow(RangeError)
    expect(weekNumber('2026-W08')).toBe('8')
  })
})

describe('the window in the address', () => {
  test.each([
    ['2026-11-24', 3, '2026-08-24'],
    ['2026-05-31', 3, '2026-02-28'],
    ['2028-02-29', 12, '2027-02-28'],
    ['2026-01-15', 24, '2024-01-15'],
  ])('%s less %d months is %s', (date, months, before) => expect(monthsBefore(date, months)).toBe(before))

  test('twelve months are the book’s own, two days go before months', () => {
    expect(windowAsked({ months: '12' }, '2026-11-24')).toEqual({})
    expect(windowAsked({ months: '3' }, '2026-11-24')).toEqual({ from: '2026-08-24' })
    expect(windowAsked({ months: '3', from: '2026-01-01', to: '2026-02-28' }, '2026-11-24')).toEqual({
      from: '2026-01-01',
      to: '2026-02-28',
    })
    expect(windowAsked({ months: '12', to: '2026-02-28' }, '2026-11-24')).toEqual({ to: '2026-02-28' })
  })

  test('in words', () => {
    const named = (date: string) => date.slice(5)
    expect(windowWords({ months: '6' }, named)).toBe('last 6 months')
    expect(windowWords({ months: '12', from: '2026-01-01' }, named)).toBe('since 01-01')
    expect(windowWords({ months: '12', to: '2026-02-28' }, named)).toBe('until 02-28')
    expect(windowWords({ months: '12', from: '2026-01-01', to: '2026-02-28' }, named)).toBe('01-01 to 02-28')
  })
})
