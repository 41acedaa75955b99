import { describe, expect, test } from 'vitest'
import { nextTagNumber } from '#core/tag.ts'
import { idsOf } from '#seed/book.ts'
import { chanceFrom } from '#seed/chance.ts'
import { layOutShop } from '#seed/lay-out.ts'

function laidOut(now: string) {
  const chance = chanceFrom(318)
  return layOutShop(Date.parse(now), chance, idsOf(chance.of('ids')))
}

describe('the demo shop is laid out at whatever hour it is opened', () => {
  // Berlin: a working morning; the minute of opening; lunch; after closing; midnight; a Sunday; both nights when the clocks change; holidays; a leap day.
  test.each([
    '2026-11-24T09:00:00Z',
    '2026-11-24T07:01:00Z',
    '2026-11-24T11:20:00Z',
    '2026-11-24T17:30:00Z',
    '2026-11-24T23:00:20Z',
    '2026-11-22T03:00:00Z',
    '2026-03-29T01:30:00Z',
    '2026-10-25T00:30:00Z',
    '2026-12-25T10:00:00Z',
    '2027-01-01T23:30:00Z',
    '2028-02-29T12:00:00Z',
  ])('at %s', (now) => {
    const { deeds, lives, tagsBefore } = laidOut(now)
    expect(deeds.length).toBeGreaterThan(2000)
    expect(deeds.every(({ at }, index) => at <= Date.parse(now) && at >= (deeds[index - 1]?.at ?? 0))).toBe(true)
    // Tags are given out in the order in which cranks are booked in, and the one on the bench has to be 318-V.
    const inOrder = lives.toSorted((one, other) => one.bookedAt - other.bookedAt)
    let number = tagsBefore
    for (const { name } of inOrder) {
      number = nextTagNumber(number)
      if (name === 'hollis') break
    }
    expect(number).toBe(318)
  })

  test('makes ids of the shape of UUID version 7, all different', () => {
    const newId = idsOf(chanceFrom(1))
    const ids = Array.from({ length: 2000 }, (_, index) => newId(1_800_000_000_000 + Math.floor(index / 3)))
    expect(new Set(ids).size).toBe(ids.length)
    for (const id of ids) expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
    expect(ids.toSorted()).toEqual(ids)
  })
})
