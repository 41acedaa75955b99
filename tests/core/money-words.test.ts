import { describe, expect, test } from 'vitest'
import { moneyWords } from '#core/money-words.ts'

describe('money in words', () => {
  test.each([
    [26_800, 'EUR', '268.00 EUR'],
    [5, 'GBP', '0.05 GBP'],
    [0, 'EUR', '0.00 EUR'],
    [-1250, 'EUR', '−12.50 EUR'],
    [26_800, 'JPY', '26800 JPY'], // ISO 4217: no minor unit
    [26_800, 'KWD', '26.800 KWD'], // ISO 4217: three decimals
    [123_456_789, 'USD', '1234567.89 USD'],
  ])('%i %s', (minor, currency, words) => {
    expect(moneyWords(minor, currency)).toBe(words)
  })

  test('refuses half a penny and what is no currency', () => {
    expect(() => moneyWords(0.5, 'EUR')).toThrow('moneyWords needs an amount in whole minor units')
    expect(() => moneyWords(1, 'EURO')).toThrow(RangeError)
  })
})
