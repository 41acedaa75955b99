import { describe, expect, test } from 'vitest'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { fillText, PLACEHOLDERS_OF, promiseWords, unknownPlaceholder } from '#core/placeholders.ts'

describe('filling a text', () => {
  test('each placeholder takes its value, every time it stands there', () => {
    expect(fillText('{shop}: {tag}, {tag}.', { shop: 'Kettle Row', tag: '318-V' })).toBe('Kettle Row: 318-V, 318-V.')
  })

  test('brackets go with a placeholder that has no value, and only their signs go with one that has', () => {
    const text = 'Ready[, {amount} to pay].[ We promised {date}.]'
    expect(fillText(text, { amount: '12.00 EUR', date: 'Thu 3 Dec' })).toBe('Ready, 12.00 EUR to pay. We promised Thu 3 Dec.')
    expect(fillText(text, { date: 'Thu 3 Dec' })).toBe('Ready. We promised Thu 3 Dec.')
    expect(fillText(text, {})).toBe('Ready.')
    expect(fillText('[{amount} by {date}]', { amount: '1' })).toBe('')
  })

  test('outside brackets a missing value is said; what nobody knows stays as it was typed', () => {
    expect(fillText('To pay: {amount}.', {})).toBe('To pay: not known.')
    expect(fillText('{dais} [sic] {constructor} {}', { days: '9' })).toBe('{dais} [sic] {constructor} {}')
  })

  test('a value is text: braces, brackets and dollars in it are not read again', () => {
    expect(fillText('[{shop}] {tag}', { shop: '{tag} $& [x]', tag: '1' })).toBe('{tag} $& [x] 1')
  })
})

test('an unknown placeholder is told as it stands, and the first texts of a book have none', () => {
  expect(unknownPlaceholder('a {days} b {dayz} c {x}', ['days'])).toBe('{dayz}')
  expect(unknownPlaceholder('{ days }', ['days'])).toBe('{ days }')
  expect(unknownPlaceholder('no braces, a { alone', [])).toBeNull()
  for (const [name, known] of Object.entries(PLACEHOLDERS_OF))
    expect([name, unknownPlaceholder(FIRST_SETTINGS[name as keyof typeof PLACEHOLDERS_OF], known)]).toEqual([name, null])
})

test('the promise in words; misuse is refused', () => {
  expect(promiseWords(1, null)).toBe('1 month')
  expect(promiseWords(12, 0.5)).toBe('12 months or 0.5 h ridden, whichever comes first')
  for (const [months, hours] of [
    [0, null],
    [1.5, null],
    [12, 0],
    [12, Number.NaN],
  ] as const)
    expect(() => promiseWords(months, hours)).toThrow(RangeError)
})
