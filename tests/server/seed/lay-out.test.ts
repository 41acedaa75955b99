import { describe, expect, test } from 'vitest'
import { nextTagNumber, tagOf } from '#core/tag.ts'
import { idsOf } from '#seed/book.ts'
import { chanceFrom } from '#seed/chance.ts'
import { layOutShop, TAG_ON_THE_BENCH } from '#seed/lay-out.ts'

function laidOut(now: string, jobs: number) {
  const chance = chanceFrom(318)
  return layOutShop({ now: Date.parse(now), chance, newId: idsOf(chance.of('ids')), jobs, address: 'https://book.example' })
}

/** Tags are given out in the order in which cranks are booked in, and the one on the bench has to come out as it is drawn. */
function tagOnTheBench({ lives, tagsBefore }: ReturnType<typeof laidOut>): string | null {
  let number = tagsBefore
  for (const { name } of lives.toSorted((one, other) => one.bookedAt - other.bookedAt)) {
    number = nextTagNumber(number)
    if (name === 'hollis') return tagOf(number)
  }
  return null
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
    const shop = laidOut(now, 60)
    expect(shop.lives.length).toBeGreaterThan(45)
    expect(shop.deeds.length).toBeGreaterThan(2000)
    expect(shop.deeds.every(({ at }, index) => at <= Date.parse(now) && at >= (shop.deeds[index - 1]?.at ?? 0))).toBe(true)
    expect(tagOnTheBench(shop)).toBe(TAG_ON_THE_BENCH)
  })

  // In the thick of spring, when the benches are fullest, and at midwinter.
  test.each(['2026-05-28T13:00:00Z', '2027-01-07T15:00:00Z'])('with four hundred jobs at %s', (now) => {
    const shop = laidOut(now, 400)
    expect(Math.abs(shop.lives.length - 400)).toBeLessThan(60)
    expect(shop.deeds.every(({ at }, index) => at <= Date.parse(now) && at >= (shop.deeds[index - 1]?.at ?? 0))).toBe(true)
    expect(tagOnTheBench(shop)).toBe(TAG_ON_THE_BENCH)
    expect(shop.lives.filter(({ cameBack }) => cameBack).length).toBeGreaterThan(6)
  })

  test('makes ids of the shape of UUID version 7, all different', () => {
    const newId = idsOf(chanceFrom(1))
    const ids = Array.from({ length: 2000 }, (_, index) => newId(1_800_000_000_000 + Math.floor(index / 3)))
    expect(new Set(ids).size).toBe(ids.length)
    for (const id of ids) expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
    expect(ids.toSorted()).toEqual(ids)
  })
})
