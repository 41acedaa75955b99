/** Booked in and not yet looked at: one by parcel, one for a child, one that came back, one of this hour. */
import { BAD_LOT } from './engines.ts'
import type { LivesByName } from './finished-lives.ts'
import type { Shop } from './life.ts'
import { bookedToday } from './open-steps.ts'

const REBUILD = { kind: 'rebuild', builder: 'jonas', checker: 'marek' } as const

export function putNewOnes(shop: Shop, stories: LivesByName): void {
  bookedToday(shop, {
    ...REBUILD,
    name: 'on the parcel shelf',
    code: 'R49-P',
    customer: 'walden',
    why: 'rust',
    daysAgo: 13.5,
    promised: 9,
    as: { place: 'parcel shelf', cameBy: 'carrier', goesBy: 'carrier', depositMinor: 0 },
  })
  bookedToday(shop, {
    ...REBUILD,
    name: 'just booked',
    code: 'T84-W',
    customer: 'petit',
    why: 'hours-up',
    daysAgo: 1,
    promised: 6,
    as: { place: 'rack A', cameBy: 'counter' },
  })
  const earlier = stories.get(`bad-lot ${BAD_LOT.codes[1]} twofields`)
  if (earlier === undefined) throw new Error('the comeback has no earlier job')
  bookedToday(shop, {
    ...REBUILD,
    name: 'came back',
    code: 'R124-X',
    customer: 'twofields',
    why: 'knock',
    builder: 'marek',
    daysAgo: 0.35,
    promised: 8,
    as: {
      again: earlier,
      comeback: true,
      comebackWhy: 'Knocks after 19 h. Says nothing was changed; premix as before.',
      hours: 19,
      hoursHow: 'metered',
      condition: ['big end blue', 'washers scored'],
      conditionNote: 'Unwashed, with bearings and plug. Cage in pieces, silver on the rod.',
      earlierRebuild: 'by us',
      place: 'rack C',
      depositMinor: 0,
    },
  })
  bookedToday(shop, {
    ...REBUILD,
    name: 'of this hour',
    code: 'D346-4R',
    customer: 'fairw',
    kind: 'true-only',
    why: 'out-of-true',
    daysAgo: 0.12,
    promised: 10,
    as: { place: 'rack C', conditionNote: 'A puller was used on the left end.' },
  })
}
