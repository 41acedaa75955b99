import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  counted,
  dateIn,
  day,
  dayAndTime,
  decimalsOf,
  figure,
  hours,
  hoursAndMinutes,
  length,
  longDay,
  mm,
  money,
  signed,
  thou,
  timeOfDay,
} from '#web/lib/format.ts'

test('days carry their weekday, and their year where it is not this one', () => {
  expect(day('2026-11-23', '2026-11-24')).toBe('Mon 23 Nov')
  expect(day('2025-03-03', '2026-11-24')).toBe('Mon 3 Mar 2025')
  expect(day('2027-01-02', '2026-12-31')).toBe('Sat 2 Jan 2027')
  expect(day('2026-09-01', '2026-11-24')).toBe('Tue 1 Sep')
  expect(longDay('2026-12-03', '2026-11-24')).toBe('Thursday 3 December')
  expect(() => day('2026-02-30', '2026-11-24')).toThrow('day needs a date that exists')
  expect(() => day('23.11.2026', '2026-11-24')).toThrow(RangeError)
})

test('an instant falls on the day of the shop, not of the tablet', () => {
  // 23:30 UTC on the 23rd is already the 24th in Berlin and still the 23rd in Chicago.
  expect(dateIn('Europe/Berlin', '2026-11-23T23:30:00Z')).toBe('2026-11-24')
  expect(dateIn('America/Chicago', '2026-11-23T23:30:00Z')).toBe('2026-11-23')
  expect(timeOfDay('2026-11-23T23:30:00Z', 'Europe/Berlin')).toBe('00:30')
  // The clocks went back on 25 October 2026 at 01:00 UTC.
  expect(timeOfDay('2026-10-25T00:30:00Z', 'Europe/Berlin')).toBe('02:30')
  expect(timeOfDay('2026-10-25T01:30:00Z', 'Europe/Berlin')).toBe('02:30')
})

test('today is said as today', () => {
  const now = Date.parse('2026-11-24T12:00:00Z')
  expect(dayAndTime('2026-11-24T08:05:00Z', 'Europe/Berlin', now)).toBe('today 09:05')
  expect(dayAndTime('2026-11-23T11:07:00Z', 'Europe/Berlin', now)).toBe('Mon 23 Nov, 12:07')
})

test('digits follow the step of the dial', () => {
  expect([0.1, 0.01, 0.005, 0.002, 0.001, 1].map(decimalsOf)).toEqual([1, 2, 3, 3, 3, 0])
  expect(mm(0.08, 0.01)).toBe('0.08')
  expect(mm(-0.05, 0.01)).toBe('\u22120.05')
  expect(mm(0.012, 0.001)).toBe('0.012')
  expect(mm(-0.001, 0.01)).toBe('0.00')
  expect(() => decimalsOf(0)).toThrow(RangeError)
})

test('halves go to the even digit', () => {
  // ISO 80000-1:2009, annex B, rule A. 0.125 and 0.375 are exact in binary.
  expect(figure(0.125, 2)).toBe('0.12')
  expect(figure(0.375, 2)).toBe('0.38')
})

test('thou: a thou is 0.0254 mm', () => {
  // NIST SP 811: 1 in = 25.4 mm exactly.
  expect(thou(0.0254)).toBe('1.0')
  expect(thou(0.08)).toBe('3.1')
  expect(length(0.08, 'thou', 0.01)).toBe('3.1 thou')
  expect(length(0.08, 'mm', 0.01)).toBe('0.08 mm')
  expect(length(0.0254, 'tenth', 0.01)).toBe('10 tenths')
})

test('money has the digits of its currency and no thousands marks', () => {
  expect(money(41200, 'EUR')).toBe('412.00')
  expect(money(123456789, 'EUR', true)).toBe('1234567.89 EUR')
  expect(money(500, 'JPY')).toBe('500')
  expect(money(1234, 'KWD')).toBe('1.234')
  expect(money(-1, 'EUR')).toBe('\u22120.01')
})

test('every amount in cents reads back to itself', () => {
  fc.assert(fc.property(fc.integer({ min: 0, max: 1_000_000_000 }), (minor) => Number(money(minor, 'EUR').replace('.', '')) === minor))
})

test('time worked is hours and whole minutes', () => {
  expect(hoursAndMinutes(47 * 60 + 59)).toBe('0:47')
  expect(hoursAndMinutes(12 * 3600 + 5 * 60)).toBe('12:05')
  expect(hoursAndMinutes(0)).toBe('0:00')
  expect(() => hoursAndMinutes(-1)).toThrow(RangeError)
  expect(hours(11.63)).toBe('11.6 h')
})

test('counts take their word', () => {
  expect(counted(1, 'day')).toBe('1 day')
  expect(counted(15, 'day')).toBe('15 days')
  expect(counted(0, 'crank')).toBe('0 cranks')
})

test('nothing is ever minus nothing', () => {
  expect(signed('-0.00')).toBe('0.00')
  expect(signed('-0.01')).toBe('\u22120.01')
})
