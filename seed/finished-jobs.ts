/** The cranks that came and went in the last eight months. */
import type { JobKind, WhyNow } from '#core/steps.ts'
import type { Chance } from './chance.ts'
import { CUSTOMER_KEYS, type CustomerKey } from './customers.ts'
import { DAY, dayOf, daysAfter, openAfter, openOn, shopDaysAfter } from './days.ts'
import { BAD_LOT, KIT_MAKERS, lotOf } from './engines.ts'
import type { Kit } from './life-at-the-counter.ts'
import { drawModel, drawReason } from './model-mix.ts'
import type { Hand } from './people.ts'

/** How a job of the past ended, when it was no plain rebuild. */
type Story =
  | 'plain'
  | 'true-only'
  | 'report'
  | 'weld'
  | 'given-back'
  | 'scrapped'
  | 'corrected'
  | 'gauge-not-read'
  | 'rod-not-read'
  | 'slipped-dial'
  | 'bad-lot'
  | 'hollis-before'

export interface FinishedWanted {
  name: string
  code: string
  customer: CustomerKey
  kind: JobKind
  why: WhyNow
  bookedAt: number
  builder: Hand
  checker: Hand
  story: Story
  ownKit: boolean
}

interface Told {
  story: Story
  builder: Hand
  code?: string
  customer?: CustomerKey
  kind?: JobKind
  why?: WhyNow
  /** Where in the eight months it lies, from 0 to 1; anywhere unless said. */
  when?: number
}

const PLAIN: readonly (readonly [Hand, number])[] = [
  ['jonas', 18],
  ['marek', 7],
  ['ewa', 4],
]

/** Jobs with a story of their own; the others are plain rebuilds. */
const TOLD: readonly Told[] = [
  { story: 'hollis-before', builder: 'marek', code: 'R449-4X', customer: 'hollis', why: 'hours-up', when: 0.04 },
  { story: 'bad-lot', builder: 'marek', code: 'F124-K', customer: 'quillfen', why: 'hours-up', when: 0.3 },
  { story: 'bad-lot', builder: 'jonas', code: 'R124-X', customer: 'twofields', why: 'hours-up', when: 0.44 },
  { story: 'bad-lot', builder: 'jonas', code: 'F124-K', customer: 'belland', why: 'hours-up', when: 0.5 },
  { story: 'bad-lot', builder: 'jonas', code: 'R124-X', customer: 'luczak', why: 'seized', when: 0.57 },
  { story: 'corrected', builder: 'jonas', code: 'H249-4X', customer: 'orsi', why: 'knock', when: 0.62 },
  { story: 'gauge-not-read', builder: 'marek', code: 'L349-4E', customer: 'simkus', why: 'rust', when: 0.35 },
  { story: 'rod-not-read', builder: 'jonas', code: 'B293-E', customer: 'rauta', why: 'seized', when: 0.7 },
  { story: 'slipped-dial', builder: 'jonas', code: 'L249-X', customer: 'twofields', why: 'hours-up', when: 0.2 },
  { story: 'true-only', builder: 'marek', kind: 'true-only', why: 'out-of-true', when: 0.28 },
  { story: 'true-only', builder: 'jonas', kind: 'true-only', why: 'dropped', code: 'H197-E', when: 0.66 },
  { story: 'report', builder: 'jonas', kind: 'check-and-report', why: 'not-known', code: 'D346-4R', customer: 'fairw', when: 0.47 },
  { story: 'weld', builder: 'ewa', kind: 'weld-only', why: 'not-known', code: 'B486-X', customer: 'ibarrola', when: 0.53 },
  { story: 'given-back', builder: 'marek', why: 'seized', code: 'D196-R', customer: 'stoss', when: 0.4 },
  { story: 'scrapped', builder: 'marek', why: 'rod-broken', code: 'O371-X', customer: 'weiss', when: 0.76 },
]

/** Cranks a week by month, January first: spring is the peak. */
const A_WEEK = [2, 4, 9, 9, 9, 4, 4, 4, 6, 4, 4, 4]
/** The last of them has to be home by now. */
const LAST_BOOKED_SHOP_DAYS_AGO = 18
const MONTHS = 8

export function finishedJobs(now: number, chance: Chance): FinishedWanted[] {
  const own = chance.of('finished jobs')
  const plain = PLAIN.flatMap(([builder, count]) => Array.from({ length: count }, (): Told => ({ story: 'plain', builder })))
  const all = [...TOLD, ...plain]
  const days = daysToBook(now)
  const places = spread(all, own)
  return all
    .map((told, index) => wantedOf(told, { bookedAt: bookedAt(days, places[index]!, own), index, chance: own.of(`job ${index}`) }))
    .sort((one, other) => one.bookedAt - other.bookedAt)
}

export function openedOn(now: number): string {
  return shopDaysAfter(daysAfter(dayOf(now), -Math.round(MONTHS * 30.4)), 1)
}

/** Shop days on which cranks of the past were booked in, each with its weight. */
function daysToBook(now: number): { day: string; weight: number }[] {
  const last = shopDaysAfter(dayOf(now), -LAST_BOOKED_SHOP_DAYS_AGO)
  const days: { day: string; weight: number }[] = []
  for (let day = shopDaysAfter(openedOn(now), 1); day <= last; day = shopDaysAfter(day, 1))
    days.push({ day, weight: A_WEEK[Number(day.slice(5, 7)) - 1]! })
  return days
}

/** Where each job lies in the eight months: those with a place of their own there, the others evenly between by chance. */
function spread(all: readonly Told[], chance: Chance): number[] {
  const free = all.filter((told) => told.when === undefined).length
  const order = Array.from({ length: free }, (_, index) => index)
  for (let index = free - 1; index > 0; index--) {
    const other = chance.whole(0, index)
    ;[order[index], order[other]] = [order[other]!, order[index]!]
  }
  return all.map((told) => told.when ?? (order.pop()! + chance.between(0.1, 0.9)) / free)
}

function bookedAt(days: readonly { day: string; weight: number }[], place: number, chance: Chance): number {
  let left = place * days.reduce((sum, { weight }) => sum + weight, 0)
  const found = days.find(({ weight }) => {
    left -= weight
    return left <= 0
  })
  const { day } = found ?? days[days.length - 1]!
  return openAfter(openOn(day)[0]!.from, chance.between(0.2, 8))
}

function wantedOf(told: Told, at: { bookedAt: number; index: number; chance: Chance }): FinishedWanted {
  const { story, builder, kind = 'rebuild' } = told
  const { chance, index } = at
  return {
    name: `finished ${index}`,
    code: told.code ?? drawModel(chance),
    customer: told.customer ?? chance.pick(CUSTOMER_KEYS),
    kind,
    why: told.why ?? drawReason(chance),
    bookedAt: at.bookedAt,
    builder,
    checker: builder === 'ewa' || (builder === 'jonas' && chance.happens(0.7)) ? 'marek' : 'ewa',
    story,
    ownKit: story === 'plain' && chance.happens(0.1),
  }
}

/** The kit of a job: of the bad lot where the story says so, else of the lot that its maker sold in those months. */
export function kitOf(job: Pick<FinishedWanted, 'code' | 'story' | 'ownKit' | 'bookedAt'>, now: number, chance: Chance): Kit {
  const whose = job.ownKit ? 'theirs' : 'ours'
  if (job.story === 'bad-lot') return { maker: BAD_LOT.maker, part: `${job.code} K2`, lot: BAD_LOT.lot, whose }
  const [ardenlow, stellmarch] = KIT_MAKERS
  const maker = chance.happens(0.25) ? stellmarch : ardenlow
  const monthsAgo = Math.floor((now - job.bookedAt) / (30 * DAY))
  const number = maker === ardenlow ? 2417 - 9 * monthsAgo : 951 - 4 * monthsAgo
  return { maker: maker.name, part: maker.part(job.code), lot: lotOf(maker.lotLetter, number), whose }
}
