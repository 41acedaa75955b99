/** The cranks that came and went in the last two years: those with a story, and the others as chance brings them. */

import type { JobKind, WhyNow } from '#core/steps.ts'
import { arrivals, shopDaysBetween } from './arrivals.ts'
import type { Chance } from './chance.ts'
import type { CustomerKey } from './customers.ts'
import { DAY, dayOf, daysAfter, openAfter, openOn, shopDayFrom, shopDaysAfter } from './days.ts'
import { BAD_LOT } from './engines.ts'
import { drawModel, drawReason, drawSingle, familyOf } from './model-mix.ts'
import { modelSheet } from './model-sheets.ts'
import { BUILT_BY_TODAY, type Hand } from './people.ts'
import { type Story, TOLD, type Told } from './story-jobs.ts'
import { isTwin } from './twins.ts'

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
  /** Its kit is of the lot whose cages broke. */
  badLot: boolean
  /** Name of the earlier job of the same crank, which has gone home by then. */
  again?: string
}

const MONTHS = 24
const MONTH_DAYS = 30.4
/** The last of them has to be home by now. */
const LAST_BOOKED_SHOP_DAYS_AGO = 18
/** Rebuilds of Jonas are as many as he has built by today in a shop of so many jobs. */
export const USUAL_JOBS = 400
/** The box of bad kits was bought a year ago and used up four months ago. */
const BAD_LOT_MONTHS_AGO = { from: 13, until: 4 } as const
/** Every eighth is a crank that was here before, half a year ago at least. */
const AGAIN = { share: 0.12, afterDays: 190 } as const

export function openedOn(now: number): string {
  return shopDaysAfter(daysAfter(dayOf(now), -Math.round(MONTHS * MONTH_DAYS)), 1)
}

/** Jobs that are in the house today or came back, beside those of the past. */
const OTHER_JOBS = 30
/** Of these Jonas has built as many. */
const JONAS_BUILT_OTHERS = 2

/** The jobs of the past, in the order in which they were booked in, in a shop of about so many jobs in all. */
export function finishedJobs(now: number, jobsInAll: number, customers: readonly CustomerKey[], chance: Chance): FinishedWanted[] {
  const own = chance.of('finished jobs')
  const days = shopDaysBetween(shopDaysAfter(openedOn(now), 1), shopDaysAfter(dayOf(now), -LAST_BOOKED_SHOP_DAYS_AGO))
  const told = TOLD.map((story, index) => toldJob(story, now, customers, own.of(`told ${index}`)))
  const others = arrivals(days, Math.max(0, jobsInAll - OTHER_JOBS - told.length), own).map((bookedAt, index) =>
    drawnJob(bookedAt, `finished ${index}`, customers, own.of(`job ${index}`)),
  )
  const byJonas = Math.round((BUILT_BY_TODAY.jonas * jobsInAll) / USUAL_JOBS)
  giveToJonas(others, byJonas - JONAS_BUILT_OTHERS - builtBy('jonas', told), own)
  const jobs = [...told, ...others].sort((one, other) => one.bookedAt - other.bookedAt)
  for (const job of jobs) job.badLot = job.badLot || isOfBadLot(job, now)
  bringBackCranks(jobs, own)
  return jobs
}

function toldJob(told: Told, now: number, customers: readonly CustomerKey[], chance: Chance): FinishedWanted {
  const { story, builder, monthsAgo, kind = 'rebuild', why } = told
  const day = shopDayFrom(daysAfter(dayOf(now), -Math.round(monthsAgo * MONTH_DAYS)))
  const code = told.code ?? drawSingle(chance)
  const customer = told.customer ?? chance.pick(customers)
  return {
    name: story === 'bad-lot' || story === 'true-only' ? `${story} ${code} ${customer}` : story,
    code,
    customer,
    kind,
    why,
    bookedAt: openAfter(openOn(day)[0]!.from, chance.between(0.2, 8)),
    builder,
    checker: checkerOf(builder, chance),
    story,
    ownKit: false,
    badLot: story === 'bad-lot',
  }
}

const KINDS: Partial<Readonly<Record<Story, JobKind>>> = { 'true-only': 'true-only', report: 'check-and-report', weld: 'weld-only' }

function drawnJob(bookedAt: number, name: string, customers: readonly CustomerKey[], chance: Chance): FinishedWanted {
  const why = drawReason(chance)
  const code = drawModel(chance)
  // A twin is rebuilt or nothing; the stories are of the others.
  const isOfSeveral = isTwin(modelSheet(code))
  const story = isOfSeveral ? 'plain' : drawStory(why, chance)
  const builder = chance.happens(0.75) ? 'marek' : 'ewa'
  return {
    name,
    code,
    customer: chance.pick(customers),
    kind: KINDS[story] ?? 'rebuild',
    why,
    bookedAt,
    builder,
    checker: checkerOf(builder, chance),
    story,
    ownKit: story === 'plain' && !isOfSeveral && chance.happens(0.1),
    badLot: false,
  }
}

/** Webs scrapped: two of a hundred; what is only out of true is only trued. */
function drawStory(why: WhyNow, chance: Chance): Story {
  if (why === 'out-of-true' || why === 'dropped') return 'true-only'
  if (why === 'not-known' && chance.happens(0.5)) return 'report'
  if (why === 'seized' && chance.happens(0.05)) return 'rod-not-read'
  return chance.weighted([
    ['plain', 90],
    ['slipped-dial', 3],
    ['scrapped', 2],
    ['given-back', 2],
    ['corrected', 1],
    ['gauge-not-read', 1],
    ['weld', 1],
  ])
}

function checkerOf(builder: Hand, chance: Chance): Hand {
  return builder === 'ewa' || (builder === 'jonas' && chance.happens(0.7)) ? 'marek' : 'ewa'
}

function isBuilt({ kind, story }: FinishedWanted): boolean {
  return kind === 'rebuild' && story !== 'given-back' && story !== 'scrapped'
}

export function builtBy(hand: Hand, jobs: readonly FinishedWanted[]): number {
  return jobs.filter((job) => isBuilt(job) && job.builder === hand).length
}

/** So many of these rebuilds are his, spread by chance over the whole time. */
function giveToJonas(jobs: readonly FinishedWanted[], count: number, chance: Chance): void {
  for (const job of chance.shuffled(jobs.filter((job) => isBuilt(job) && familyOf(job.code) !== 'multi')).slice(0, Math.max(0, count))) {
    job.builder = 'jonas'
    job.checker = checkerOf('jonas', chance)
  }
}

function isOfBadLot(job: FinishedWanted, now: number): boolean {
  const monthsAgo = (now - job.bookedAt) / (MONTH_DAYS * DAY)
  const fits = BAD_LOT.codes.some((code) => code === job.code) && isBuilt(job) && !job.ownKit
  return fits && monthsAgo <= BAD_LOT_MONTHS_AGO.from && monthsAgo >= BAD_LOT_MONTHS_AGO.until
}

/** Some of the drawn jobs are of a crank that was here before: same engine, same customer. */
function bringBackCranks(jobs: readonly FinishedWanted[], chance: Chance): void {
  const taken = new Set<string>()
  for (const job of jobs) {
    if (!job.name.startsWith('finished') || !chance.happens(AGAIN.share)) continue
    const earlier = jobs.filter(
      (one) =>
        isBuilt(one) && one.name.startsWith('finished') && !taken.has(one.name) && one.bookedAt < job.bookedAt - AGAIN.afterDays * DAY,
    )
    if (earlier.length === 0) continue
    const { name, code, customer } = chance.pick(earlier)
    if (isTwin(modelSheet(code)) && (job.kind !== 'rebuild' || job.story !== 'plain' || job.builder === 'jonas')) continue
    if (job.badLot && !BAD_LOT.codes.some((fitting) => fitting === code)) continue
    taken.add(name)
    Object.assign(job, { again: name, code, customer })
  }
}
