/** The steps of a job that is in the house today, one after the other, from the moment of the one before. */
import type { z } from 'zod'
import type { placeNew } from '#contract/jobs.ts'
import type { Faults } from '#core/truing-faults.ts'
import { movePlace } from '#server/features/jobs/commands.ts'
import { dayOf, openAfter, openBefore, shopDaysAfter } from './days.ts'
import { type JobWanted, type Life, lifeOf, putOn, type Shop } from './life.ts'
import { type Parting, putMeasuring, putParting, receivedFaults } from './life-at-the-bench.ts'
import { type BookedAs, type Kit, type Price, priceFor, putBooking, putKit, putQuote, putYes } from './life-at-the-counter.ts'
import { type Parts, type PartsWanted, partsOf } from './parts.ts'
import { HANA, HANDS, type Hand } from './people.ts'
import { countedOn, partingHours, putBuilding } from './rebuild.ts'
import { hoursOf, LEAST_BUILDING_HOURS } from './skill.ts'

/** Open hours of one shop day. */
export const A_DAY = 8.75

export interface OpenWanted extends Omit<JobWanted, 'bookedAt'> {
  /** Shop days ago that it was booked in. */
  daysAgo: number
  /** Promised so many shop days from today. */
  promised: number
  as?: BookedAs
  parts?: PartsWanted
}

/** A job so far. */
export interface OpenLife {
  life: Life
  parts: Parts
  price: Price
  /** When the last thing was done. */
  at: number
}

export function ago(shop: Shop, days: number): number {
  return openBefore(shop.now, days * A_DAY)
}

export function inDays(shop: Shop, days: number): string {
  return shopDaysAfter(dayOf(shop.now), days)
}

export function bookedToday(shop: Shop, wanted: OpenWanted): OpenLife {
  const { daysAgo, promised, as = {}, parts = {}, ...job } = wanted
  const life = lifeOf(shop, { ...job, bookedAt: ago(shop, daysAgo) })
  putBooking(shop, life, { promisedOn: inDays(shop, promised), ...as })
  return { life, parts: partsOf(life.sheet, parts, life.chance.of('parts')), price: priceFor(life), at: life.bookedAt }
}

export function measured(shop: Shop, open: OpenLife, by: { hand?: Hand; faults?: Faults; hoursLater?: number } = {}): OpenLife {
  const { life, at } = open
  const { hand = life.builder, faults = receivedFaults(life), hoursLater = 0.6 } = by
  return { ...open, at: putMeasuring(shop, life, { hand, from: openAfter(at, hoursLater), hours: life.chance.between(0.3, 0.45), faults }) }
}

export function asked(shop: Shop, open: OpenLife, price: Price = open.price): OpenLife {
  const at = openAfter(open.at, 0.5)
  putQuote(shop, open.life, at, price)
  return { ...open, at, price }
}

export function agreed(shop: Shop, open: OpenLife, price?: Price): OpenLife {
  const quoted = asked(shop, open, price)
  const at = openAfter(quoted.at, 1)
  putYes(shop, open.life, at, 'by phone')
  return { ...quoted, at: openAfter(at, 0.05) }
}

export function apart(shop: Shop, open: OpenLife, parting: Partial<Parting> = {}): OpenLife {
  const { life, parts, at } = open
  const hours = partingHours(2, life, 20)
  return { ...open, at: putParting(shop, life, parts, { hand: life.builder, from: openAfter(at, 0.3), hours, ...parting }) }
}

export function kitIn(shop: Shop, open: OpenLife, kit: Omit<Kit, 'whose'>): OpenLife {
  const at = openAfter(open.at, 0.1)
  putKit(shop, open.life, at, { ...kit, whose: 'ours' })
  return { ...open, at }
}

/** Built by its hand, and called true. */
export function trued(shop: Shop, open: OpenLife): OpenLife & { faults: Faults } {
  const { life, parts, at } = open
  const n = countedOn(shop, life.builder)
  const hours = Math.max(LEAST_BUILDING_HOURS, hoursOf(life.builder, n, life.code, life.chance.of('bench hours')) - 0.4)
  const built = putBuilding(shop, life, { from: openAfter(at, 0.3), hours, n, parts, borderline: false })
  return { ...open, at: built.at, faults: built.faults }
}

export function putPlace(shop: Shop, life: Life, at: number, place: string, holder?: Hand): void {
  const wanted: z.infer<typeof placeNew> = { place, ...(holder === undefined ? {} : { holderId: HANDS[holder].id }) }
  putOn(shop, life, at, holder === undefined ? HANA : HANDS[holder], (act) => movePlace(act, life.id, wanted))
}
