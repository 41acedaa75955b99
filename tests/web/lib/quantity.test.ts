import { expect, test } from 'vitest'
import { readMoney, readQuantity } from '#web/lib/quantity.ts'

test.each([
  ['61', 61],
  ['61 h', 61],
  ['61,5', 61.5],
  ['61.5h', 61.5],
])('%s h is read', (typed, value) => {
  expect(readQuantity(typed, 'h')).toEqual({ ok: true, value })
})

test.each(['61 thou', '61 km', '6 mm', 'about 60', '1.234,5', '6 1'])('%s h is refused in words', (typed) => {
  const read = readQuantity(typed, 'h')
  expect(read).toMatchObject({ ok: false, nothingTyped: false })
  expect(read.ok || read.detail.length > 10).toBe(true)
})

test('nothing typed is no fault yet', () => {
  expect(readQuantity(' ', 'h')).toMatchObject({ ok: false, nothingTyped: true })
})

test('money is read into minor units', () => {
  expect(readMoney('100.00', 'EUR')).toEqual({ ok: true, value: 10_000 })
  expect(readMoney('412', 'EUR')).toEqual({ ok: true, value: 41_200 })
  expect(readMoney('0,07 EUR', 'EUR')).toEqual({ ok: true, value: 7 })
  expect(readMoney('1.15', 'EUR')).toEqual({ ok: true, value: 115 })
  expect(readMoney('500', 'JPY')).toEqual({ ok: true, value: 500 })
})

test('money finer than its currency, or less than nothing, is refused', () => {
  expect(readMoney('1.005', 'EUR')).toMatchObject({ ok: false, detail: '2 figures after the mark at most.' })
  expect(readMoney('5.0', 'JPY')).toMatchObject({ ok: false, detail: 'Whole JPY only.' })
  expect(readMoney('-5', 'EUR')).toMatchObject({ ok: false, detail: 'Not less than 0.' })
})
