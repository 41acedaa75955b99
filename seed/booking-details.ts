/** What else is written down when a crank is booked in: hours, use, what came with it, how it looked, when it is promised. */
import type { Booking } from '#contract/jobs.ts'
import { dayOf, shopDaysAfter } from './days.ts'
import type { Life } from './life.ts'
import { drawUse, familyOf } from './model-mix.ts'

type Details = Omit<Booking, 'customer' | 'crank' | 'kind' | 'whyNow' | 'id'>

const CAME_WITH = {
  cross: ['mains on', 'keys', 'nut', 'primary gear', 'stuffers', 'piston pin'],
  fourStroke: ['mains on', 'keys', 'cam gear', 'oil pump gear', 'balancer gear', 'piston pin'],
  vintage: ['mains on', 'keys', 'nut', 'spacers', 'flywheel'],
  kart: ['keys', 'piston pin', 'spacers'],
  multi: ['mains on', 'keys', 'nut', 'spacers', 'piston pin'],
} as const

const CONDITIONS: Partial<Readonly<Record<Life['why'], readonly string[]>>> = {
  knock: ['big end blue', 'washers scored'],
  seized: ['big end blue', 'rim knocked'],
  rust: ['rust in the track'],
  'rod-broken': ['rim knocked', 'washers scored'],
  'out-of-true': ['end mushroomed', 'taper dented'],
  dropped: ['end bent', 'rim knocked'],
}

const EARLIER = ['by the maker only', 'once, by another shop, kit not known', 'once, at home in a vice', 'not known']

export function bookingDetails(life: Life): { booking: Details; engineNumber: string; crank: { pressedBefore: number } } {
  const { chance, code, kind, why, bookedAt } = life
  const own = chance.of('details')
  const family = familyOf(code)
  const hoursHow = own.weighted([
    ['metered', 4],
    ['declared', 4],
    ['unknown', family === 'vintage' ? 8 : 2],
  ] as const)
  const hours = Math.round(own.lognormal(family === 'kart' ? 9 : why === 'hours-up' ? 110 : 60, 0.5))
  const cameWith = CAME_WITH[family]
    .filter(() => own.happens(0.4))
    .map((what) => (what === 'keys' ? { what, count: own.whole(1, 2) } : { what }))
  const condition = (CONDITIONS[why] ?? []).filter(() => own.happens(0.6))
  const byCarrier = own.happens(0.35)
  const day = dayOf(bookedAt)
  const feeYesHow = byCarrier ? 'by mail' : 'at the counter'
  const deposit = own.weighted([
    [0, 6],
    [50_00, 2],
    [100_00, 2],
  ])
  const early = own.happens(0.25) ? { wantedOn: shopDaysAfter(day, own.whole(6, 12)) } : {}
  return {
    engineNumber: `${code.slice(0, 2)}-${own.whole(10_000, 39_999)}`,
    crank: { pressedBefore: own.happens(0.3) ? 2 : 1 },
    booking: {
      cameBy: byCarrier ? 'carrier' : 'counter',
      goesBy: byCarrier ? 'carrier' : 'counter',
      ...(hoursHow === 'unknown' ? {} : { hours }),
      hoursHow,
      ...drawUse(code, own),
      whoFits: own.pick(['owner fits', 'their own mechanic', 'a friend who knows how']),
      earlierRebuild: own.pick(EARLIER),
      ...early,
      promisedOn: shopDaysAfter(day, own.whole(9, 16)),
      place: own.pick(['rack A', 'rack B', 'rack C', 'shelf 1', 'shelf 2']),
      kitFrom: kind === 'rebuild' ? 'ours' : 'none',
      cameWith,
      condition,
      oldPartsBack: own.happens(0.2),
      feeYesHow,
      ...(deposit === 0 || kind !== 'rebuild' ? {} : { depositMinor: deposit, depositHow: own.pick(['cash', 'card', 'transfer']) }),
    },
  }
}
