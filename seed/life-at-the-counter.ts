/** What the counter does with a job: booking it in, asking and hearing the yes, the kit, telling, money, the box. */
import type { Booking } from '#contract/jobs.ts'
import { tellCustomer } from '#server/features/events/commands.ts'
import { bookIn } from '#server/features/jobs/booking.ts'
import { nameKit } from '#server/features/kits/commands.ts'
import { checkBox, enterYes, makeQuote, takePayment } from '#server/features/money/commands.ts'
import { beginWait } from '#server/features/waits/commands.ts'
import { bookingDetails } from './booking-details.ts'
import { DAY, MINUTE, openAfter } from './days.ts'
import { type Life, put, putOn, putStep, type Shop } from './life.ts'
import { priceOf } from './model-mix.ts'
import { HANA } from './people.ts'

export interface BookedAs extends Partial<Omit<Booking, 'customer' | 'crank' | 'kind' | 'whyNow'>> {
  /** An earlier job of the same crank. */
  again?: Life | undefined
  /** Of that job it is a comeback. */
  comeback?: boolean | undefined
  engineNumber?: string | undefined
  pressedBefore?: number | undefined
}

/** What the rest of a job asks of its booking. */
export type Booked = Pick<Booking, 'cameWith' | 'goesBy' | 'depositMinor'>

function customerOf(shop: Shop, { customer }: Life) {
  const whose = shop.customers.get(customer)
  if (whose === undefined) throw new RangeError(`the demo has no customer ${customer}`)
  return whose
}

/** Books it in, with the details that such a crank comes with; what is given stands instead. */
export function putBooking(shop: Shop, life: Life, as: BookedAs = {}): Booked {
  const { again, comeback, engineNumber, pressedBefore, ...given } = as
  const details = bookingDetails(life)
  const whose = customerOf(shop, life)
  const wanted = {
    id: life.id,
    kind: life.kind,
    whyNow: life.why,
    feeYesBy: whose.name,
    ...details.booking,
    ...given,
  }
  const fresh = {
    engineId: shop.engineIds.get(life.code)!,
    engineNumber: engineNumber ?? details.engineNumber,
    pressedBefore: pressedBefore ?? details.crank.pressedBefore,
  }
  put(shop, life.bookedAt, HANA, async (act) => {
    const customer = shop.known.has(life.customer) ? { id: whose.id } : whose
    const crank = again === undefined ? fresh : { id: again.crankId }
    const job = await bookIn(act, { ...wanted, customer, crank, ...(comeback && again ? { comebackOf: again.id } : {}) })
    shop.known.add(life.customer)
    life.tag = job.tag
    life.crankId = job.crank.id
  })
  shop.lives.push(life)
  return wanted
}

export interface Price {
  totalMinor: number
  text: string
}

export function priceFor(life: Life, ownKit = false): Price {
  return priceOf({ code: life.code, kind: life.kind, ownKit })
}

export function putQuote(shop: Shop, life: Life, at: number, price: Price): void {
  putOn(shop, life, at, HANA, (act) => makeQuote(act, life.id, price))
}

/** The yes, and with it the step: agreed, where this kind of job has that. */
export function putYes(
  shop: Shop,
  life: Life,
  at: number,
  how: 'by phone' | 'by mail' | 'by text' | 'at the counter',
  quoteVersion = 1,
): void {
  const by = customerOf(shop, life).name
  putOn(shop, life, at, HANA, (act) => enterYes(act, life.id, { quoteVersion, by, how }))
  if (life.kind !== 'check-and-report') putStep(shop, life, openAfter(at, 0.02), HANA, 'agreed')
}

export interface Kit {
  maker: string
  part: string
  lot: string
  whose: 'ours' | 'theirs'
}

export function putKitWait(shop: Shop, life: Life, at: number, dueOn: string, note?: string): void {
  putOn(shop, life, at, HANA, (act) => beginWait(act, life.id, { what: 'kit', dueOn, ...(note === undefined ? {} : { note }) }))
}

export function putKit(shop: Shop, life: Life, at: number, kit: Kit): void {
  put(shop, at, HANA, (act) => nameKit(act, life.id, kit))
}

export function putTold(shop: Shop, life: Life, at: number, says: string): void {
  const how = { mail: 'by mail', text: 'by text', phone: 'by phone', post: 'by post' } as const
  const { hearBy = 'phone' } = customerOf(shop, life)
  putOn(shop, life, at, HANA, (act) => tellCustomer(act, life.id, { says, how: how[hearBy] }))
}

export function amountInWords(minor: number): string {
  return (minor / 100).toFixed(2)
}

export function putPayment(shop: Shop, life: Life, at: number, amountMinor: number): void {
  if (amountMinor <= 0) return
  const how = life.chance.weighted([
    ['card', 5],
    ['cash', 3],
    ['transfer', 3],
  ])
  putOn(shop, life, at, HANA, (act) => takePayment(act, life.id, { amountMinor, what: 'payment', how }))
}

/** Paid, boxed and gone. */
export function putGoingHome(shop: Shop, life: Life, at: number, booked: Booked, owesMinor: number): void {
  putPayment(shop, life, at, owesMinor)
  const parcel =
    booked.goesBy === 'carrier'
      ? { carrier: 'parcel post', carrierNo: `PP${life.chance.whole(10_000_000, 99_999_999)}`, grams: life.chance.whole(2600, 6400) }
      : {}
  const items = booked.cameWith.map(({ what, count = 1 }) => ({ what, came: count, back: count }))
  putOn(shop, life, at + 4 * MINUTE, HANA, (act) => checkBox({ ...act, expectedVersion: () => 0 }, life.id, { items, ...parcel }))
  putStep(shop, life, at + 6 * MINUTE, HANA, 'gone')
}

/** The same day or after a night's sleep. */
export function answerAfter(at: number, life: Life): number {
  return openAfter(at, Math.min(30, life.chance.lognormal(3, 0.9)))
}

/** When somebody comes for it: three days is the median, and a few let it lie for a month. */
export function fetchedAfter(shop: Shop, at: number, life: Life): number {
  const days = life.chance.happens(0.08) ? life.chance.between(31, 52) : Math.min(28, life.chance.lognormal(2.5, 0.7))
  const wished = openAfter(at + days * DAY, life.chance.between(0.1, 3))
  return wished + 10 * MINUTE < shop.now ? wished : openAfter(at, life.chance.between(1, 3))
}
