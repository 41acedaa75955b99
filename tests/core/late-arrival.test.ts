import { expect, it } from 'vitest'
import { type Arrival, cameInLate } from '#core/late-arrival.ts'

const at = (time: string) => `2026-11-24T${time}Z`
const arrival = (done: string, written: string): Arrival => ({ occurredAt: at(done), recordedAt: at(written) })

it('ten minutes between the bench and the book are late, less is not', () => {
  expect(cameInLate(arrival('10:02:00', '11:40:00'))).toBe(true)
  expect(cameInLate(arrival('10:02:00', '10:12:00'))).toBe(true)
  expect(cameInLate(arrival('10:02:00', '10:11:59'))).toBe(false)
  // A clock that runs ahead is not late.
  expect(cameInLate(arrival('10:05:00', '10:02:00'))).toBe(false)
})

it('what the book got before it, though it was done later, makes it late; a minute is left to the two clocks', () => {
  const late = arrival('10:02:00', '10:08:00')
  expect(cameInLate(late, [arrival('10:05:00', '10:05:01')])).toBe(true)
  expect(cameInLate(late, [arrival('10:02:59', '10:03:00')])).toBe(false)
  expect(cameInLate(late, [arrival('10:05:00', '10:08:01')])).toBe(false)
  expect(cameInLate(late, [arrival('09:00:00', '09:00:01'), late])).toBe(false)
})

it('refuses what is no instant', () => {
  expect(() => cameInLate({ occurredAt: '10:02', recordedAt: at('10:02:00') })).toThrow(RangeError)
})
